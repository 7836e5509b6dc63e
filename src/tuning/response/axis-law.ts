import normal from '@stdlib/stats-base-dists-normal';
import student from '@stdlib/stats-base-dists-t';
import type { StudentT } from './normal-inverse-gamma.ts';

/** What is known of one coordinate of an offset: a mixture of Student t laws (df may be Infinity). */
export interface AxisLaw {
  /** Weights sum to 1. */
  readonly parts: readonly { readonly weight: number; readonly law: StudentT }[];
}

export function meanOf({ parts }: AxisLaw): number {
  return parts.reduce((sum, { weight, law }) => sum + weight * law.mean, 0);
}

/** The law of the coordinate plus a number. */
export function movedBy({ parts }: AxisLaw, by: number): AxisLaw {
  return {
    parts: parts.map(({ weight, law }) => ({ weight, law: { ...law, mean: law.mean + by } })),
  };
}

/** Probability that the coordinate exceeds a value. */
export function massAboveValue({ parts }: AxisLaw, value: number): number {
  return parts.reduce((sum, { weight, law }) => {
    const z = (law.mean - value) / law.scale;
    return sum + weight * (law.df === Infinity ? normal.cdf(z, 0, 1) : student.cdf(z, law.df));
  }, 0);
}

/** Interval of equal tails that holds the coordinate with a probability. */
export function centralInterval(law: AxisLaw, probability: number): [number, number] {
  const tail = (1 - probability) / 2;
  const high = quantile(law, 1 - tail);
  const [{ law: first }] = law.parts as [AxisLaw['parts'][number]];
  // Parts about one place are alike on both its sides.
  const isEven = law.parts.every((part) => part.law.mean === first.mean);
  return [isEven ? 2 * first.mean - high : quantile(law, tail), high];
}

function quantile(law: AxisLaw, p: number): number {
  const [far, means] = [
    Math.max(...law.parts.map((part) => 40 * part.law.scale)),
    law.parts.map((part) => part.law.mean),
  ];
  let [low, high] = [Math.min(...means) - far, Math.max(...means) + far];
  for (let i = 0; i < 26; i++) {
    const middle = (low + high) / 2;
    if (massAboveValue(law, middle) > 1 - p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
