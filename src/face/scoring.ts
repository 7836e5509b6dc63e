import type { PlainText } from '../words/words.ts';
import type { Face, Zone } from './faces.ts';

/** By which rule arrows are valued. */
export const SCORING_IDS = ['as-printed', 'inner-ten', 'five-zones'] as const;
export type Scoring = (typeof SCORING_IDS)[number];

interface ScoringEntry {
  /** What a person calls it. */
  readonly name: PlainText;
  /** What equal totals are parted by, as scorers write it: X is the inner ten. */
  readonly tieBreak: 'X' | 'tens' | 'golds';
  readonly face: (face: Face) => Face;
}

/**
 * Rules of scoring on faces with ten values. Sources are those of tests/face/scoring.test.ts.
 */
export const SCORINGS: Readonly<Record<Scoring, ScoringEntry>> = {
  'as-printed': { name: 'As printed (10–1)', tieBreak: 'X', face: (face) => face },
  'inner-ten': { name: 'Inner ten only', tieBreak: 'tens', face: withInnerTen },
  'five-zones': { name: 'Five zones (9–1)', tieBreak: 'golds', face: withFiveZones },
};

/** What a face is scored by when nobody asks for another rule: what is printed on it. */
export const USUAL_SCORING: Scoring = 'as-printed';

/** Whether a face has the ten that the other rules are about: field faces have one rule, their own. */
export function hasTen(face: Face): boolean {
  return face.innerRadiusMm !== null && face.zones.some(({ value }) => value === 10);
}

/** The rule that holds for a face: its own print's where another was asked for that it cannot have. */
export function scoringOf(face: Face, asked: Scoring): Scoring {
  return hasTen(face) ? asked : USUAL_SCORING;
}

/** A face with the zones that count by a rule; what is printed on it stays what it is. */
export function scoredFace(face: Face, asked: Scoring): Face {
  return SCORINGS[scoringOf(face, asked)].face(face);
}

/** Indoors, compound bows: the inner ring is the ten, and what else is in the ten is nine. */
function withInnerTen(face: Face): Face {
  const zones = face.zones.map((zone) =>
    zone.value === 10 ? { ...zone, outerRadiusMm: face.innerRadiusMm! } : zone,
  );
  return { ...face, zones, innerRadiusMm: null };
}

/** Imperial rounds: both zones of a colour count the same, 9, 7, 5, 3 and 1 from gold to white. */
function withFiveZones(face: Face): Face {
  const widest = new Map<number, Zone>();
  for (const zone of face.zones) {
    const value = zone.value % 2 === 0 ? zone.value - 1 : zone.value;
    const before = widest.get(value);
    if (before && before.outerRadiusMm >= zone.outerRadiusMm) continue;
    widest.set(value, { ...zone, value });
  }
  return { ...face, zones: [...widest.values()], innerRadiusMm: null };
}
