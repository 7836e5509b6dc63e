import normal from '@stdlib/stats-base-dists-normal';
import type { Face } from '../face/faces.ts';
import { zoneAt } from '../face/line-rule.ts';
import { scoredFace, scoringOf, USUAL_SCORING, type Scoring } from '../face/scoring.ts';
import type { Mark, ScoredMark } from './mark.ts';
import { tieBreakOf, type TieBreak } from './tie-break.ts';

export interface Score {
  readonly total: number;
  /** Arrows in the inner ring, where the rule counts it beside the ten. */
  readonly inners: number;
  readonly tieBreak: TieBreak;
  /** Marks counted: those that are not old. */
  readonly arrows: number;
}

/** A neighbouring value less likely than this is out of the question. */
const LEAST_P = 0.02;

/**
 * Values marks by the line rule and the rule of scoring, and says how likely the neighbouring value is. Marks that are `old`
 * are valued too, but count for nothing.
 *
 * @param shaftMm Shaft diameter, mm.
 */
export function scoreMarks(
  marks: readonly Mark[],
  printed: Face,
  shaftMm: number,
  asked: Scoring = USUAL_SCORING,
): { marks: ScoredMark[]; score: Score; scoring: Scoring } {
  const face = scoredFace(printed, asked);
  const scoring = scoringOf(printed, asked);
  const scored = marks.map((mark): ScoredMark => {
    const { value, inner } = zoneAt(face, mark.mm, shaftMm);
    return { ...mark, zone: value, inner, lineCall: lineCall(face, mark, shaftMm, value) };
  });
  const counted = scored.filter((mark) => mark.age !== 'old');
  return {
    marks: scored,
    score: {
      total: counted.reduce((sum, mark) => sum + mark.zone, 0),
      inners: counted.filter((mark) => mark.inner).length,
      arrows: counted.length,
      tieBreak: tieBreakOf(counted, scoring),
    },
    scoring,
  };
}

/** The likelier of the two neighbouring values, null when neither is within the position's error. */
function lineCall(face: Face, mark: Mark, shaftMm: number, value: number): ScoredMark['lineCall'] {
  const edgeMm = Math.hypot(mark.mm[0], mark.mm[1]) - shaftMm / 2;
  const zones = [...face.zones].sort((a, b) => b.value - a.value);
  const own = zones.findIndex((zone) => zone.value === value);
  const higher = own === -1 ? zones[zones.length - 1] : zones[own - 1];
  const lower = own === -1 ? undefined : (zones[own + 1]?.value ?? 0);
  const sdMm = Math.max(mark.radialSdMm ?? mark.sdMm, 1e-6);
  const pHigher = higher ? normal.cdf(higher.outerRadiusMm - edgeMm, 0, sdMm) : 0;
  const pLower = own === -1 ? 0 : normal.cdf(edgeMm - zones[own]!.outerRadiusMm, 0, sdMm);
  const p = Math.max(pHigher, pLower);
  if (p < LEAST_P) return null;
  return pHigher >= pLower ? { zone: higher!.value, p } : { zone: lower!, p };
}
