import { stringify } from 'csv-stringify/browser/esm/sync';
import type { EveningLine } from '../evening/evening-line.ts';
import { SPREADSHEET_FORM } from './spreadsheet-form.ts';

/** One row per photo, in the order given. */
export function eveningCsv(lines: readonly EveningLine[]): string {
  return stringify(lines.map(rowOf), SPREADSHEET_FORM);
}

function rowOf(line: EveningLine) {
  const reading = line.ok ? line.reading : null;
  const offset = reading?.groups?.offset ?? null;
  return {
    photo: line.photo,
    archer: line.archer,
    bow: line.bow,
    session: line.session ?? '',
    end: line.end ?? '',
    taken_at: line.takenAt ?? '',
    needs_a_look: line.look.needed ? 'yes' : 'no',
    look_at: line.look.reasons.join('; '),
    face: reading?.face ?? '',
    arrows: reading?.score.arrows ?? '',
    score: reading?.score.total ?? '',
    scoring: reading?.scoring ?? '',
    tie_break: reading?.score.tieBreak?.count ?? '',
    tie_break_of: reading?.score.tieBreak?.of ?? '',
    offset_right_mm: offset ? tenth(offset.mm[0]) : '',
    offset_up_mm: offset ? tenth(offset.mm[1]) : '',
    error: line.ok ? '' : line.error.code,
  };
}

/** Kept a number: as text, a minus sign would be taken for a formula's. */
function tenth(mm: number): number {
  return Math.round(mm * 10) / 10;
}
