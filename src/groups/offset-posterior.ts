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
 * (common practice, no published source).
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

/**
 * What is known of the offset: round bivariate t laws about one centre, with the same degrees of freedom, one
 * for each ratio of spreads. Shares sum to 1.
 */
export interface OffsetMixture {
  readonly centre: [number, number];
  readonly df: number;
  readonly parts: readonly {
    readonly ratio: number;
    /** Of a fletched arrow, per axis, mm2. */
    readonly variance: number;
    /** Of the offset, per axis, mm. */
    readonly scale: number;
    readonly share: number;
  }[];
}

export interface OffsetGiven {
  readonly spread?: SpreadPrior | undefined;
  readonly bareSpread: BareSpread;
  /** Of the spread's prior, beside those of `spread`, where it says nothing: it goes as sigma^-(1 + df). @default 0 */
  readonly matchingDf?: number;
}

/** Ratios are looked at this close together, in their log, and at least at so many. */
const NODES_APART = 0.2;
const NODES = 25;

/**
 * The offset under a round spread common to both kinds up to a ratio: fletched N(mu_f, s2 I), bare
 * N(mu_b, r2 s2 I), flat in both centres, scaled inverse chi-square in s2 (flat in log s without a record),
 * log-normal in r. Given r the offset is a bivariate t with df = prior df + 2 (nf + nb - 2). Null when nothing
 * tells the spread.
 */
export function offsetMixture(
  fletched: Scatter,
  bare: Scatter,
  { spread, bareSpread, matchingDf = 0 }: OffsetGiven,
): OffsetMixture | null {
  const df = (spread?.df ?? 0) + matchingDf + 2 * (fletched.n + bare.n - 2);
  const atMedian = spread ? spread.df * spread.sigmaMm ** 2 : 0;
  if (df <= 0 || atMedian + fletched.sumOfSquares + bare.sumOfSquares <= 0) return null;

  const steps = Math.max(NODES - 1, Math.ceil((8 * bareSpread.logSd) / NODES_APART));
  const nodes = Array.from({ length: steps + 1 }, (_, i) => {
    const z = (8 * i) / steps - 4;
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
  return {
    centre: [bare.mean[0] - fletched.mean[0], bare.mean[1] - fletched.mean[1]],
    df,
    parts: nodes.map(({ ratio, variance }, i) => ({
      ratio,
      variance,
      scale: Math.sqrt(variance * (1 / fletched.n + ratio ** 2 / bare.n)),
      share: shares[i]!,
    })),
  };
}

/** Posterior of the offset: the mixture over ratios, handed on as the one bivariate t with its 50 % and 95 % radii. */
export function offsetPosterior(
  fletched: Scatter,
  bare: Scatter,
  given: Omit<OffsetGiven, 'matchingDf'>,
): OffsetPosterior | null {
  const mixture = offsetMixture(fletched, bare, given);
  if (mixture === null) return null;
  const { parts } = mixture;
  let below = 0;
  let median = 1;
  for (const { ratio, share } of parts) {
    below += share;
    median = ratio;
    if (below >= 0.5) break;
  }
  return {
    offset: roundT(mixture),
    sigmaMm: Math.sqrt(parts.reduce((sum, { share, variance }) => sum + share * variance, 0)),
    bareRatio: median,
  };
}

/** Radius about the centre of a mixture that holds a probability. */
export function radiusOfMixture({ centre, df, parts }: OffsetMixture, probability: number): number {
  const told = parts.filter(({ share }) => share > NEGLIGIBLE);
  const scales = told.map(({ scale }) => scale);
  const held = (radius: number) =>
    told.reduce((sum, { share, scale }) => sum + share * massWithin({ centre, scale, df }, radius), 0); // prettier-ignore
  const most = told.reduce((sum, { share }) => sum + share, 0);
  return solve(
    (radius) => held(radius) - most * probability,
    radiusHolding({ centre, scale: Math.min(...scales), df }, probability),
    radiusHolding({ centre, scale: Math.max(...scales), df }, probability),
  );
}

/** Ratios less likely than this change nothing that anybody sees. */
const NEGLIGIBLE = 1e-6;

/** The bivariate t whose 50 % and 95 % radii are those of a mixture. */
function roundT(mixture: OffsetMixture): BivariateT {
  const { centre, df } = mixture;
  const [inner, outer] = [radiusOfMixture(mixture, 0.5), radiusOfMixture(mixture, 0.95)];
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
