import type { Hand } from '../../request/request.ts';
import type { Adjuster, AdjusterPart } from '../bow/set-up.ts';

export type Axis = 'horizontal' | 'vertical';

export interface SlopePrior {
  /** Expected movement of the bare shafts from the fletched centre, mrad per unit of amount. */
  readonly mean: number;
  readonly sd: number;
}

/** For a right-handed archer, mrad [right] and [up] per natural unit; stiffer counts up. */
interface Mechanics {
  readonly horizontal: SlopePrior;
  readonly vertical: SlopePrior;
  /** What one natural unit is in other units. */
  readonly units?: Readonly<Record<string, number>>;
}

const LENGTHS = { mm: 1, cm: 10, in: 25.4, inch: 25.4, '"': 25.4 };
const WEIGHTS = { lb: 1, lbs: 1, '#': 1, kg: 2.205 };
const MASSES = { grain: 1, gr: 1, grains: 1, g: 15.43 };
const none = (sd: number): SlopePrior => ({ mean: 0, sd });

/**
 * Signs are those of the mechanics (common practice, no published source): a stiffer plunger or
 * spring makes the arrow act stiffer, more draw weight, length, point mass or a weaker shaft makes
 * it act weaker, a higher nocking point brings the bare shafts down. Sizes are our own judgement,
 * wide enough that an archer's first changes outweigh them; where the trade does not agree on a
 * sign the mean is zero.
 */
const MECHANICS: Readonly<Record<Exclude<AdjusterPart, 'own'>, Mechanics>> = {
  // Per turn of the thread: one line of the dial.
  plunger: { horizontal: { mean: -3.5, sd: 2.5 }, vertical: none(0.4) },
  'plunger-spring': { horizontal: { mean: -2, sd: 1.5 }, vertical: none(0.3) },
  'nocking-point': {
    horizontal: none(0.3),
    vertical: { mean: -1.6, sd: 1 },
    units: LENGTHS,
  },
  tiller: { horizontal: none(0.1), vertical: none(0.4), units: LENGTHS },
  'limb-bolts': { horizontal: { mean: 1, sd: 0.8 }, vertical: none(0.5) },
  'draw-weight': { horizontal: { mean: 0.8, sd: 0.6 }, vertical: none(0.3), units: WEIGHTS },
  'brace-height': { horizontal: none(0.15), vertical: none(0.15), units: LENGTHS },
  'centre-shot': { horizontal: none(1), vertical: none(0.2), units: LENGTHS },
  spine: { horizontal: { mean: 0.02, sd: 0.015 }, vertical: none(0.005) },
  'arrow-length': { horizontal: { mean: 0.05, sd: 0.04 }, vertical: none(0.02), units: LENGTHS },
  'point-mass': { horizontal: { mean: 0.03, sd: 0.025 }, vertical: none(0.01), units: MASSES },
  'shaft-diameter': { horizontal: none(2), vertical: none(1), units: LENGTHS },
};

/** What an adjuster probably does to the offset before this bow's own ends say so. */
export function slopePrior(adjuster: Adjuster, axis: Axis, hand: Hand): SlopePrior {
  const { part, scale } = adjuster;
  if (part === 'own') return none(scale.type === 'number' ? 0.7 / scale.step : 0.7);
  const { [axis]: natural, units } = MECHANICS[part];
  let perAmount = 1;
  if (scale.type === 'dial') perAmount = 1 / scale.positionsPerLine;
  else if (scale.type === 'number') perAmount = units?.[scale.unit.toLowerCase()] ?? 1;
  if (part === 'plunger' && adjuster.higherIs === 'softer') perAmount = -perAmount;
  if (axis === 'horizontal' && hand === 'left') perAmount = -perAmount;
  return { mean: natural.mean * perAmount, sd: natural.sd * Math.abs(perAmount) };
}
