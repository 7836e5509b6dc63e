import { tieBreakOf } from '../../src/marks/tie-break.ts';
import { marksAsLogged } from '../../src/reading/marks-as-logged.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { ARROWS_OF_A_KIND } from '../../src/request/limits.ts';
import type { Archive } from '../../src/tuning/record/archive.ts';
import type { End } from '../../src/tuning/record/session.ts';
import { plainMarkSchema } from '../state/end-record.ts';
import { evaluate } from '../state/evaluate.ts';
import { SETTINGS_AT_FIRST, type KeptSettings } from '../state/settings-at-first.ts';
import type { KeptEnd } from '../store/database.ts';
import { isWrittenDown } from '../store/log-of-kept.ts';

/**
 * A kept end made of what a log has of it. Where its arrows are in the photo the log does not say: its
 * reading has no rings, and opening it finds them. Null where the archive lacks what it hangs on.
 */
export function keptFromLog(end: End, log: Omit<Archive, 'ends'>): KeptEnd | null {
  const session = log.sessions.find(({ id }) => id === end.sessionId);
  const archer = log.archers.find(({ id }) => id === session?.archerId);
  const setUp = log.setUps.find(({ id }) => id === end.setUpId);
  if (!session || !archer || !setUp) return null;
  const bow = log.bows.find(({ id }) => id === setUp.bowId);
  const createdAt = new Date(end.shotAt).toISOString();
  const settings: KeptSettings = {
    ...SETTINGS_AT_FIRST,
    archer: archer.name,
    hand: bow?.hand ?? archer.hand,
    scoring: end.scoring,
    face: session.face,
    distanceM: session.distanceM,
    place: session.place,
    setting: session.setting,
    wind: session.wind,
    windDay: createdAt.slice(0, 10),
    setUpId: isWrittenDown(setUp) ? setUp.id : null,
    preferredMrad: setUp.preferredMrad,
    fletched: count(end, 'fletched'),
    bare: count(end, 'bare'),
  };
  const fit: Reading['fit'] = { residualMm: 0, tiltDeg: 0, spots: [], notes: [] };
  const plain = marksAsLogged({ fit, marks: [] }, end.arrows).map((mark) =>
    plainMarkSchema.parse(mark),
  );
  const judged = evaluate({ face: session.face }, plain, settings, {});
  // The log's values may be a person's, of arrows that touched a line.
  const marks = judged.marks.map((mark, i) => {
    const { zone, inner } = end.arrows[i]!;
    return { ...mark, zone, inner, lineCall: null };
  });
  return {
    id: end.id,
    createdAt,
    photoName: end.photo?.file ?? '',
    settings,
    focalPx: null,
    byHand: null,
    pick: null,
    step: 'verdict',
    tagsConfirmed: true,
    note: end.notes.slice(0, 2000),
    marks: plain,
    reading: {
      face: session.face,
      fit,
      uncounted: [],
      faces: [],
      warnings: [],
      marks,
      score: {
        total: marks.reduce((sum, { zone }) => sum + zone, 0),
        inners: marks.filter(({ inner }) => inner).length,
        arrows: marks.length,
        tieBreak: tieBreakOf(marks, end.scoring),
      },
      scoring: end.scoring,
      guessedTags: judged.guessedTags,
      groups: judged.groups,
      tuning: judged.tuning,
    },
    keptAt: createdAt,
    revision: 1,
    sentRevision: 0,
    logVersion: null,
    conflict: null,
  };
}

function count({ arrows }: End, kind: 'fletched' | 'bare'): number {
  return Math.min(arrows.filter((arrow) => arrow.kind === kind).length, ARROWS_OF_A_KIND);
}
