import { LIKELY, type AxisVerdict } from './axis-verdict.ts';

/**
 * What holds wherever an end was shot from, of what would be said at each distance: the side that all
 * of them find, as surely as the least sure of them. So a distance that is told later can only make a
 * verdict surer. Where they find different things nothing is decided.
 */
export function leastSure(verdicts: readonly AxisVerdict[]): AxisVerdict {
  const least = verdicts.reduce((a, b) => (b.p < a.p ? b : a));
  const { sign } = verdicts.find((verdict) => verdict.sign !== 0) ?? least;
  const agree = verdicts.every((verdict) => verdict.sign === sign);
  return {
    sign,
    certainty: agree ? least.certainty : 'undecided',
    p: agree ? least.p : Math.min(least.p, LIKELY),
    worthAChange: agree && verdicts.every((verdict) => verdict.worthAChange),
  };
}
