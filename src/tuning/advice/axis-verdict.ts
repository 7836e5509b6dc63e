import { massAboveValue, meanOf, type AxisLaw } from '../response/axis-law.ts';
import type { Certainty } from './tuning.ts';

export const SURE = 0.95;
export const LIKELY = 0.8;

/** Each way from what is wanted: both axes within it are together within 1 mrad. */
export const DEAD_ZONE_MRAD = 0.7;

/**
 * Where bare shafts are wanted on the face, mm from the fletched mean (right, up), and how near is near
 * enough.
 * @param preferredMrad the standing offset that the archer prefers (right, up)
 */
export function wantedOffset(
  [right, up]: readonly [number, number],
  distanceM: number,
): { readonly mm: readonly [number, number]; readonly radiusMm: number } {
  return { mm: [right * distanceM, up * distanceM], radiusMm: DEAD_ZONE_MRAD * distanceM };
}

/**
 * A change is worth making when the mean lies this part of the dead zone away: beliefs are drawn
 * towards what is wanted, so the bow itself is farther off (chosen by simulation).
 */
export const WORTH_OF_ZONE = 0.5;

export interface AxisVerdict {
  /** 1 above (or right of) what is wanted, -1 below (or left), 0 within the dead zone. */
  readonly sign: -1 | 0 | 1;
  readonly certainty: Certainty;
  /** Probability of what `sign` says. */
  readonly p: number;
  /** Whether it is more likely than not beyond the dead zone, so that a change is worth making. */
  readonly worthAChange: boolean;
}

export function certaintyOf(p: number): Certainty {
  if (p >= SURE) return 'sure';
  return p >= LIKELY ? 'likely' : 'undecided';
}

/**
 * Which side of the wanted value a coordinate of the offset lies. Within the dead zone with fair
 * probability counts as there, whatever the side: no change would better it.
 * @param wanted same unit as the posterior
 * @param deadZone half-width about `wanted` that is as good as there, 0 when unknown
 */
export function axisVerdict(
  law: AxisLaw,
  { wanted, deadZone }: { readonly wanted: number; readonly deadZone: number },
): AxisVerdict {
  const above = (value: number) => massAboveValue(law, value);
  const pLevel = deadZone > 0 ? above(wanted - deadZone) - above(wanted + deadZone) : 0;
  if (pLevel >= LIKELY) {
    return { sign: 0, certainty: certaintyOf(pLevel), p: pLevel, worthAChange: false };
  }
  const pAbove = above(wanted);
  const p = Math.max(pAbove, 1 - pAbove);
  const worthAChange = Math.abs(meanOf(law) - wanted) > WORTH_OF_ZONE * deadZone;
  return { sign: pAbove >= 0.5 ? 1 : -1, certainty: certaintyOf(p), p, worthAChange };
}
