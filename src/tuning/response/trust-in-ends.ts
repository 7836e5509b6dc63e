import { lineSums, observeLines } from './gaussian-line.ts';

/** An end further out than this, in standard deviations of what the others foretell, counts less. */
const WILD_FROM = 2.5;

/**
 * Weighs each end by how far it is from what all the others foretell, until the weights rest. Within
 * WILD_FROM nothing is reweighed, so ends of an ordinary day keep the exact law.
 * @param rows of the linear model, one per end
 * @returns by end: 1, or less for a wild one
 */
export function trustInEnds(
  rows: readonly (readonly number[])[],
  y: readonly number[],
  given: {
    /** Inverse variances of the ends' own noise. */
    readonly precisions: readonly number[];
    /** By end: which session it belongs to. */
    readonly sessionOf: readonly string[];
    readonly sessionSd: number;
    /** Of the coefficients before, about 0. */
    readonly priorSds: readonly number[];
  },
): number[] {
  const { precisions, sessionOf, sessionSd, priorSds } = given;
  const names = [...new Set(sessionOf)];
  const whole = rows.map((row, i) => [
    ...row,
    ...names.map((name) => (name === sessionOf[i] ? 1 : 0)),
  ]);
  const sds = [...priorSds, ...names.map(() => sessionSd)];
  const size = sds.length;
  const zero = sds.map(() => 0);
  const everyEnd = [rows.map((_, i) => i)];
  let trust = rows.map(() => 1);
  for (let round = 0; round < 10; round++) {
    const trusted = precisions.map((precision, i) => precision * trust[i]!);
    const sums = lineSums({ rows: whole, y, precisions: trusted }, everyEnd, { blockVariance: 0, size }); // prettier-ignore
    const { covariance, lines } = observeLines(sds, [zero], sums);
    const { mean } = lines[0]!;
    const next = whole.map((x, i) => {
      let [fitted, variance] = [0, 0];
      for (let a = 0; a < size; a++) {
        if (x[a] === 0) continue;
        fitted += x[a]! * mean[a]!;
        for (let b = 0; b < size; b++) {
          if (x[b] !== 0) variance += x[a]! * covariance[a]![b]! * x[b]!;
        }
      }
      // Residual and its variance as if this end had not been fitted, at its full weight.
      const left = Math.max(1e-9, 1 - trusted[i]! * variance);
      const out = Math.abs(y[i]! - fitted) / left / Math.sqrt(1 / precisions[i]! + variance / left);
      return out > WILD_FROM ? (WILD_FROM / out) ** 2 : 1;
    });
    const isAtRest = next.every((value, i) => Math.abs(value - trust[i]!) <= 1e-3);
    trust = next;
    if (isAtRest) break;
  }
  return trust;
}
