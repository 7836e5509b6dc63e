import { stringify } from 'csv-stringify/browser/esm/sync';
import { SPREADSHEET_FORM } from './spreadsheet-form.ts';
import { FACES } from '../face/faces.ts';
import { tieBreakOf } from '../marks/tie-break.ts';
import type { WholeLog } from '../tuning/record/bow-log.ts';
import type { End } from '../tuning/record/session.ts';

/** One row per end. */
export function endsCsv(log: WholeLog): string {
  const find = finder(log);
  return stringify(
    log.ends.map((end) => {
      const { archer, bow, setUp, session } = find(end);
      const values = end.arrows.map((arrow) => arrow.zone);
      const tieBreak = tieBreakOf(end.arrows, end.scoring);
      return {
        end: end.id,
        shot_at: end.shotAt,
        archer: archer.name,
        bow: bow.name,
        set_up: setUp.name,
        place: session.place,
        setting: session.setting,
        wind: session.wind,
        distance_m: session.distanceM,
        face: FACES[session.face].name,
        arrows: end.arrows.length,
        fletched: end.arrows.filter((arrow) => arrow.kind === 'fletched').length,
        bare: end.arrows.filter((arrow) => arrow.kind === 'bare').length,
        missed_fletched: end.missed.fletched,
        missed_bare: end.missed.bare,
        score: values.reduce((sum, value) => sum + value, 0),
        scoring: end.scoring,
        tie_break: tieBreak.count,
        tie_break_of: tieBreak.of,
        set_aside: end.setAside ? 'yes' : 'no',
        photo: end.photo?.file ?? '',
        notes: end.notes,
      };
    }),
    SPREADSHEET_FORM,
  );
}

/** One row per arrow on the face; misses have no position and are counted with their end. */
export function arrowsCsv(log: WholeLog): string {
  const find = finder(log);
  return stringify(
    log.ends.flatMap((end) => {
      const { archer, session } = find(end);
      return end.arrows.map((arrow) => ({
        end: end.id,
        shot_at: end.shotAt,
        archer: archer.name,
        distance_m: session.distanceM,
        arrow: arrow.id,
        kind: arrow.kind,
        spot: arrow.spot,
        right_mm: arrow.mm[0],
        up_mm: arrow.mm[1],
        sd_mm: arrow.sdMm ?? '',
        value: arrow.zone === 0 ? 'M' : arrow.zone,
        x: arrow.inner ? 'yes' : 'no',
        arrow_number: arrow.arrowNumber ?? '',
      }));
    }),
    SPREADSHEET_FORM,
  );
}

function finder(log: WholeLog) {
  const byId = <T extends { id: string }>(items: readonly T[]) =>
    new Map(items.map((item) => [item.id, item]));
  const [archers, bows, setUps, sessions] = [
    byId(log.archers),
    byId(log.bows),
    byId(log.setUps),
    byId(log.sessions),
  ];
  return (end: End) => {
    const session = sessions.get(end.sessionId)!;
    return {
      session,
      archer: archers.get(session.archerId)!,
      bow: bows.get(session.bowId)!,
      setUp: setUps.get(end.setUpId)!,
    };
  };
}
