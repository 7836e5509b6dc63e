export interface StepDown {
  /** Which hypotheses are rejected. */
  readonly rejected: ReadonlySet<number>;
  /** p values with the number of hypotheses taken into account: rejected at a level where below it. */
  readonly adjusted: readonly number[];
}

/**
 * Holm's sequentially rejective procedure (S. Holm, A simple sequentially rejective multiple test
 * procedure, Scandinavian Journal of Statistics 6, 1979, 65-70): of m hypotheses the one with the
 * least p is held against level / m, the next against level / (m - 1), and so on until one stands. The
 * chance of any false rejection is at most the level however the tests hang together.
 *
 * @param pOf p values of all hypotheses, once some are rejected: what is rejected may leave what
 *   the others are held against
 * @param mayReject whether a rejection leaves something to hold the others against
 */
export function stepDown(
  count: number,
  pOf: (rejected: ReadonlySet<number>) => readonly number[],
  {
    level,
    mayReject = () => true,
  }: {
    readonly level: number;
    readonly mayReject?: (next: number, rejected: ReadonlySet<number>) => boolean;
  },
): StepDown {
  const rejected = new Set<number>();
  const adjusted = Array<number>(count).fill(1);
  let least = 0;
  for (;;) {
    const p = pOf(rejected);
    const left = [...p.keys()].filter((i) => !rejected.has(i)).sort((a, b) => p[a]! - p[b]!);
    let floor = least;
    left.forEach((i, rank) => {
      floor = Math.min(1, Math.max(floor, p[i]! * (left.length - rank)));
      adjusted[i] = floor;
    });
    const next = left.find((i) => adjusted[i]! <= level && mayReject(i, rejected));
    if (next === undefined) break;
    least = adjusted[next]!;
    rejected.add(next);
  }
  return { rejected, adjusted };
}
