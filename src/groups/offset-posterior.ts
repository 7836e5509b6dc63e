import { sharesOfLogs } from './shares-of-logs.ts';
import type { ArcherRecord } from './archer-record.ts';
import { massWithin, radiusHolding, type BivariateT } from './bivariate-t.ts';
import type { Scatter } from './scatter.ts';

/** Spread of bare shafts over that of fletched arrows: median, and standard deviation of its log. */
export interface BareSpread {
  readonly ratio: number;
  readonly logSd: number;
}

/**
 * Before anything is known of an archer: bare shafts scatter somewhat more than fletched arrows
 * (common practice, no published source). How much is kept so open that regions hold about nine in ten whether
 * they scatter as much or twice as much (by simulation).
 */
export const BARE_SPREAD_AT_FIRST: BareSpread = { ratio: 1.2, logSd: 0.6 };

/** How much a day's spread differs from the record, standard deviation of the log. */
export const DAY_LOG_SD = 0.1;

/** A day's spread before the day's arrows, per axis: a scaled inverse chi-square. */
export interface SpreadPrior {
  /** When the bare shafts' spread over it is the record's median ratio. */
  readonly sigmaMm: number;
  readonly df: number;
  /** How the log of the spread goes with the log of that ratio. @default 0 */
  readonly perLogRatio?: number;
}

/**
 * The archer's record as a prior of today's spread at a distance. Both the record's own
 * uncertainty and the day's form widen it: the log of a spread on v degrees of freedom has a
 * variance of about 1 / (2 v).
 */
export function spreadPrior(record: ArcherRecord, distanceM: number): SpreadPrior | null {
  if (record.arrows < 2) return null;
  const { bareSpread, dayLogSd = DAY_LOG_SD } = record;
  const ofRecord = 1 / (4 * (record.arrows - 1));
  const correlation = bareSpread?.correlation ?? 0;
  const logVariance = ofRecord * (1 - correlation ** 2) + dayLogSd ** 2;
  return {
    sigmaMm: record.sigmaMrad * distanceM,
    df: 1 / (2 * logVariance),
    perLogRatio: bareSpread ? (correlation * Math.sqrt(ofRecord)) / bareSpread.logSd : 0,
  };
}

export interface OffsetPosterior {
  /** Of the bare shafts' true centre less the fletched arrows', mm. */
  readonly offset: BivariateT;
  /** Today's fletched spread per axis, given everything: root of its posterior mean square, mm. */
  readonly sigmaMm: number;
  /** Spread of bare shafts over fletched, posterior median. */
  readonly bareRatio: number;
}

const NODES = 25;

/**
 * Posterior of the offset under a round spread common to both kinds up to a ratio: fletched
 * N(mu_f, s2 I), bare N(mu_b, r2 s2 I), flat in both centres, scaled inverse chi-square in s2 (flat
 * in log s without a record), log-normal in r. Given r the offset is a bivariate t with
 * df = prior df + 2 (nf + nb - 2); r is integrated on a grid, and the mixture is handed on as the
 * one bivariate t with the same 50 % and 95 % radii. Null when nothing tells the spread.
 */
export function offsetPosterior(
  fletched: Scatter,
  bare: Scatter,
  given: {
    readonly spread?: SpreadPrior | undefined;
    readonly bareSpread?: BareSpread | undefined;
  },
): OffsetPosterior | null {
  const { spread, bareSpread = BARE_SPREAD_AT_FIRST } = given;
  const df = (spread?.df ?? 0) + 2 * (fletched.n + bare.n - 2);
  const atMedian = spread ? spread.df * spread.sigmaMm ** 2 : 0;
  if (df <= 0 || atMedian + fletched.sumOfSquares + bare.sumOfSquares <= 0) return null;

  const nodes = Array.from({ length: NODES }, (_, i) => {
    const z = (8 * i) / (NODES - 1) - 4;
    const logRatio = bareSpread.logSd * z;
    const ratio = bareSpread.ratio * Math.exp(logRatio);
    const logPrior = (spread?.perLogRatio ?? 0) * logRatio;
    const priorSquares = atMedian * Math.exp(2 * logPrior);
    const squares = priorSquares + fletched.sumOfSquares + bare.sumOfSquares / ratio ** 2;
    const logWeight =
      -(z ** 2) / 2 +
      (spread?.df ?? 0) * logPrior -
      2 * (bare.n - 1) * Math.log(ratio) -
      (df / 2) * Math.log(squares);
    return { ratio, variance: squares / df, logWeight };
  });
  const { shares } = sharesOfLogs(nodes.map((node) => node.logWeight));
  const scales = nodes.map((node) =>
    Math.sqrt(node.variance * (1 / fletched.n + node.ratio ** 2 / bare.n)),
  );

  const centre: [number, number] = [
    bare.mean[0] - fletched.mean[0],
    bare.mean[1] - fletched.mean[1],
  ];
  const massOfMixture = (radius: number) =>
    scales.reduce(
      (sum, scale, i) => sum + shares[i]! * massWithin({ centre, scale, df }, radius),
      0,
    );
  let below = 0;
  let median = 1;
  for (const [i, node] of nodes.entries()) {
    below += shares[i]!;
    median = node.ratio;
    if (below >= 0.5) break;
  }
  return {
    offset: roundT(centre, df, massOfMixture, [Math.min(...scales), Math.max(...scales)]),
    sigmaMm: Math.sqrt(nodes.reduce((sum, n, i) => sum + shares[i]! * n.variance, 0)),
    bareRatio: median,
  };
}

/** The bivariate t whose 50 % and 95 % radii are those of a mixture with this mass by radius. */
function roundT(
  centre: [number, number],
  df: number,
  mass: (radius: number) => number,
  [narrow, wide]: readonly [number, number],
): BivariateT {
  const holding = (probability: number) =>
    solve(
      (radius) => mass(radius) - probability,
      radiusHolding({ centre, scale: narrow, df }, probability),
      radiusHolding({ centre, scale: wide, df }, probability),
    );
  const [inner, outer] = [holding(0.5), holding(0.95)];
  const tail = (x: number) =>
    radiusHolding({ centre, scale: 1, df: x }, 0.95) /
    radiusHolding({ centre, scale: 1, df: x }, 0.5);
  // A mixture over the scale only makes tails heavier, so the degrees of freedom only go down.
  const logDf = solve((x) => outer / inner - tail(Math.exp(x)), Math.log(df / 50), Math.log(df));
  const mixed = Math.exp(logDf);
  return { centre, scale: inner / radiusHolding({ centre, scale: 1, df: mixed }, 0.5), df: mixed };
}

/** Root of an increasing function by bisection; the nearer end when there is none. */
function solve(increasing: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let i = 0; i < 30; i++) {
    const middle = (a + b) / 2;
    if (increasing(middle) < 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}
