import { zoneLabel } from '../../../src/drawing/zone-label.ts';
import { FACES } from '../../../src/face/faces.ts';
import { SCORINGS, USUAL_SCORING } from '../../../src/face/scoring.ts';
import { tieBreakWords } from '../../../src/marks/tie-break.ts';
import type { Reading, UsedLog } from '../../../src/reading/reading.ts';
import { tuningReport } from './tuning-report.ts';

/** A reading as plain text, for a person at a terminal. */
export function readingReport(reading: Reading, log?: UsedLog): string {
  const { fit, marks, score } = reading;
  const fresh = marks.filter((mark) => mark.age !== 'old');
  const old = marks.length - fresh.length;
  const tieBreak = tieBreakWords(score.tieBreak);
  const { scoring = USUAL_SCORING } = reading;
  const rule = scoring === USUAL_SCORING ? '' : ` (${SCORINGS[scoring].name})`;
  const numbered = fresh.some((mark) => mark.arrowNumber !== undefined);
  const lines = [
    `Face      ${FACES[reading.face].name}; rings fit to ${fit.residualMm.toFixed(2)} mm, ` +
      `tilt ${fit.tiltDeg.toFixed(0)} degrees`,
    `Score     ${score.total} with ${score.arrows} ${score.arrows === 1 ? 'arrow' : 'arrows'}` +
      `${tieBreak === null ? '' : `, ${tieBreak}`}${rule}; the judge at the boss decides`,
    `Marks     ${fresh.length} of this end${old > 0 ? `, ${old} old` : ''}`,
    ...(log ? [`Log       ${logLine(log)}`] : []),
    '',
    `   mark value   right      up    ±    kind      state     ${numbered ? 'arrow  ' : ''}sure`,
    ...marks.flatMap((mark, i) => (mark.age === 'old' ? [] : [markLine(mark, i + 1, numbered)])),
    '',
    ...(reading.groups?.fletched || reading.groups?.bare
      ? [tuningReport(reading.groups, reading.tuning)]
      : []),
    ...guessedLines(reading),
    ...[...fit.notes, ...reading.warnings].map((note) => `Note: ${note}`),
  ];
  return lines.join('\n').trimEnd() + '\n';
}

function logLine({ archer, bow, setUp, ends }: UsedLog): string {
  const what = [archer, bow, setUp].filter((one) => one !== null).join(', ');
  return `${what}: ${ends} ${ends === 1 ? 'end' : 'ends'} kept`;
}

function markLine(mark: Reading['marks'][number], number: number, numbered: boolean): string {
  const value = zoneLabel(mark);
  const arrow = numbered ? `${(mark.arrowNumber ?? '-').padEnd(5)}  ` : '';
  const call = mark.lineCall
    ? `  line: ${mark.lineCall.zone} with ${Math.round(mark.lineCall.p * 100)} %`
    : '';
  return (
    `  ${String(number).padStart(5)} ${value.padStart(5)} ${mark.mm[0].toFixed(1).padStart(7)} ${mark.mm[1].toFixed(1).padStart(7)} ` +
    `${mark.sdMm.toFixed(1).padStart(4)}    ${kindWords(mark).padEnd(9)} ${mark.state.padEnd(9)} ` +
    `${arrow}${Math.round(mark.confidence * 100)} %${call}`
  );
}

/** A guess from the pattern of hits carries a question mark. */
function kindWords({ kind, kindFrom }: Reading['marks'][number]): string {
  return kindFrom === 'pattern' ? `${kind}?` : kind;
}

/** Says that tags were guessed, and how to tell them. */
function guessedLines({ guessedTags, marks }: Reading): string[] {
  if (guessedTags === null) return [];
  const numbers = (ids: readonly string[]) =>
    ids.map((id) => marks.findIndex((mark) => mark.id === id) + 1).sort((a, b) => a - b);
  const [best, next] = guessedTags.ways.map(
    ({ bare, p }) => `${numbers(bare).join(' and ') || 'none'} (${Math.round(p * 100)} %)`,
  );
  const example = numbers(guessedTags.ways[0]!.bare).join(',');
  return [
    `Tags: which marks are bare shafts was guessed from where they lie: ${best}${next === undefined ? '' : `, else ${next}`}.`,
    ...(example === ''
      ? []
      : [`      Say the right ones, as --bare-at ${example}, and advice follows.`]),
    '',
  ];
}
