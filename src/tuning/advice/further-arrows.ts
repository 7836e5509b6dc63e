import normal from '@stdlib/stats-base-dists-normal';
import student from '@stdlib/stats-base-dists-t';
import { LIKELY, SURE } from './axis-verdict.ts';

export interface FurtherArrows {
  readonly fletched: number;
  readonly bare: number;
  /** Probability that these settle every undecided direction. */
  readonly probability: number;
}

export interface FurtherArrowsQuestion {
  readonly fletched: number;
  readonly bare: number;
  /** Estimates of the undecided coordinates less what is wanted, any unit. */
  readonly estimates: readonly number[];
  /** Half-width that is as good as wanted, same unit; 0 when unknown. */
  readonly deadZone: number;
  /** Fletched spread per axis, same unit, and its degrees of freedom. */
  readonly sigma: number;
  readonly df: number;
  /** Spread of bare shafts over fletched. */
  readonly bareRatio: number;
}

/** More than this in one go is no advice: shoot them over several sessions and let the log add up. */
export const FURTHER_AT_MOST = 60;
const WANTED_PROBABILITY = 0.8;

/**
 * The fewest further arrows, shared between the kinds where they help most, that settle all
 * undecided directions with a probability of 0.8: the estimate to come is normal about the present
 * one with the variance that the new arrows take away, and a direction is settled when it is sure,
 * or when the offset is known to be within the dead zone. `probability` is what FURTHER_AT_MOST
 * arrows reach where that is not enough.
 */
export function furtherArrows(question: FurtherArrowsQuestion): FurtherArrows {
  const { sigma, bareRatio, estimates, deadZone } = question;
  const variance = (f: number, b: number) => sigma ** 2 * (1 / f + bareRatio ** 2 / b);
  const now = variance(question.fletched, question.bare);
  const shares: { fletched: number; bare: number; then: number }[] = [];
  let [fletched, bare] = [0, 0];
  for (let more = 1; more <= FURTHER_AT_MOST; more++) {
    const [f, b] = [question.fletched + fletched, question.bare + bare];
    if (variance(f + 1, b) < variance(f, b + 1)) fletched++;
    else bare++;
    const then = variance(question.fletched + fletched, question.bare + bare);
    shares.push({ fletched, bare, then });
  }
  const reached = (place: number) => {
    const df = question.df + 2 * (place + 1);
    const { then } = shares[place]!;
    return estimates.reduce(
      (p, estimate) => p * settling(estimate, { now, then, df, deadZone }),
      1,
    );
  };
  // More arrows settle more, so the fewest are found by halving.
  let [low, high] = [0, FURTHER_AT_MOST - 1];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (reached(middle) >= WANTED_PROBABILITY) high = middle;
    else low = middle + 1;
  }
  const share = shares[low]!;
  return { fletched: share.fletched, bare: share.bare, probability: reached(low) };
}

/** Probability that one coordinate is settled once its variance has come down. */
function settling(
  estimate: number,
  {
    now,
    then,
    df,
    deadZone,
  }: {
    readonly now: number;
    readonly then: number;
    readonly df: number;
    readonly deadZone: number;
  },
): number {
  const scale = Math.sqrt(then);
  const moves = Math.sqrt(now - then);
  const within = (limit: number) =>
    normal.cdf((limit - estimate) / moves, 0, 1) - normal.cdf((-limit - estimate) / moves, 0, 1);
  const sureFrom = student.quantile(SURE, df) * scale;
  const levelTo = widestLevel(deadZone / scale, df) * scale;
  return levelTo >= sureFrom ? 1 : 1 - within(sureFrom) + within(levelTo);
}

/** Largest estimate, in scales, that still counts as within a dead zone of so many scales. */
function widestLevel(deadZone: number, df: number): number {
  const inside = (x: number) => student.cdf(deadZone - x, df) - student.cdf(-deadZone - x, df);
  if (inside(0) < LIKELY) return 0;
  let [low, high] = [0, deadZone];
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (inside(middle) >= LIKELY) low = middle;
    else high = middle;
  }
  return low;
}
