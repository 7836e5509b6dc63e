import { sharesOfLogs } from '../groups/shares-of-logs.ts';
import { blocksBy, lineSums } from '../tuning/response/gaussian-line.ts';
import type { LineSupposition } from './line-mixture.ts';
import { pooledSquares } from './pooled-spread.ts';
import type { TrendEnd } from './trend-ends.ts';

/** Ends of one set-up on one evening, at one distance and face. */
export interface EveningCell {
  readonly sessionId: string;
  readonly ends: readonly TrendEnd[];
}

/** What cells say of a linear model: one value each, and the ways its noise may be. */
export interface EveningLines {
  /** Of a cell that says something; `place` is its place among those that came. */
  readonly cells: readonly { readonly place: number; readonly y: number }[];
  /** By supposition: how set-ups differ on one evening beside what they always do, standard deviation. */
  readonly ofSetUp: readonly number[];
  /** Variance of one arrow's worth of what a cell says. */
  readonly perArrow: number;
  /** @param rows of the coefficients, one for each of `cells` */
  readonly suppose: (rows: readonly (readonly number[])[]) => LineSupposition[];
}

/**
 * Standard deviations that an evening's own level may have: log-normal before, weighed by what the log
 * shows (own judgement). Of points an arrow, and of the log of a spread. One evening each shows nothing of how
 * evenings differ: they are taken for so unlike that it is hardly ever said with eight in ten which of two
 * set-ups is better.
 */
const EVENING = {
  value: { medianSd: 0.35, logSd: 1 },
  logSpread: { medianSd: 0.17, logSd: 1 },
} as const;
/**
 * The same of what a set-up does on one evening beside what it always does (a sight, a grip, a string of the
 * day): for two archers in five nothing (own judgement).
 */
const SET_UP = {
  value: { medianSd: 0.1, logSd: 0.8 },
  logSpread: { medianSd: 0.05, logSd: 0.8 },
} as const;
const OF_NO_SET_UP = 0.4;
/** The same of ends: the arrows of one end share an aim. */
const END_VALUE = { medianSd: 0.2, logSd: 1 } as const;
/** Places about the log of a standard deviation, in its own standard deviations. */
const PLACES = { many: [-2.1, -1.5, -0.9, -0.3, 0.3, 0.9, 1.5, 2.1], few: [-1.6, 0, 1.6] } as const;
/** Noise that the ends themselves make less likely than this changes nothing that anybody sees. */
const NEGLIGIBLE = 1e-5;
/** From so many degrees of freedom on a spread is as good as known beside that of evenings. */
const KNOWN_FROM = 60;

interface Placed {
  readonly sd: number;
  /** Log of how likely it is before; over all places these likelihoods sum to 1. */
  readonly log: number;
}

function placed(
  { medianSd, logSd }: { readonly medianSd: number; readonly logSd: number },
  places: readonly number[],
): Placed[] {
  const { logTotal } = sharesOfLogs(places.map((z) => -(z ** 2) / 2));
  return places.map((z) => ({
    sd: medianSd * Math.exp(logSd * z),
    log: -(z ** 2) / 2 - logTotal,
  }));
}

function placedOrNone(about: { readonly medianSd: number; readonly logSd: number }): Placed[] {
  return [
    { sd: 0, log: Math.log(OF_NO_SET_UP) },
    ...placed(about, PLACES.few).map(({ sd, log }) => ({
      sd,
      log: log + Math.log(1 - OF_NO_SET_UP),
    })),
  ];
}

/**
 * Points an arrow by evening: arrows scatter within an end, ends of an evening differ by their aim, set-ups
 * by evening, and evenings from each other. None of these is known; the ends say how large each is.
 */
export function valueLines(cells: readonly EveningCell[]): EveningLines {
  const scored = cells.flatMap((cell, place) => {
    const ends = cell.ends
      .filter(({ values }) => values.length > 0)
      .map(({ values }) => ({ mean: meanOf(values), n: values.length, values }));
    return ends.length === 0 ? [] : [{ place, sessionId: cell.sessionId, ends }];
  });
  // One point an arrow on two degrees of freedom: enough to start from, soon outweighed.
  let [squares, df] = [2, 2];
  for (const { ends } of scored) {
    for (const { values, mean } of ends) {
      squares += values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      df += values.length - 1;
    }
  }
  const variance = squares / df;
  const noises = (df >= KNOWN_FROM ? [0] : PLACES.few).flatMap((z) => {
    const ofArrow = variance * Math.exp(z * Math.sqrt(2 / df));
    return placed(END_VALUE, PLACES.few).map(({ sd, log }) => {
      const read = scored.map(({ ends }) =>
        together(ends.map(({ mean, n }) => ({ y: mean, variance: sd ** 2 + ofArrow / n }))),
      );
      return {
        variances: read.map((one) => one.variance),
        ys: read.map(({ y }) => y),
        log: log - z ** 2 / 2 + read.reduce((sum, { logWithin }) => sum + logWithin, 0),
        perArrow: ofArrow + sd ** 2 * arrowsAnEnd(scored),
      };
    });
  });
  const { shares } = sharesOfLogs(noises.map(({ log }) => log));
  const usual = (of: (noise: (typeof noises)[number]) => number) =>
    noises.reduce((sum, noise, i) => sum + shares[i]! * of(noise), 0);
  return linesOf(
    scored.map(({ place, sessionId }, i) => ({ place, sessionId, y: usual(({ ys }) => ys[i]!) })),
    noises.filter((_, i) => shares[i]! >= NEGLIGIBLE),
    { evening: EVENING.value, setUp: SET_UP.value, perArrow: usual(({ perArrow }) => perArrow) },
  );
}

/** The log of the fletched spread by evening, mrad. */
export function spreadLines(cells: readonly EveningCell[]): EveningLines {
  const measured = cells.flatMap(({ sessionId, ends }, place) => {
    const { squaresMrad2, df } = pooledSquares(ends);
    if (df === 0 || squaresMrad2 <= 0) return [];
    const y = Math.log(squaresMrad2 / df) / 2 - logBias(df);
    return [{ place, sessionId, y, variance: logVariance(df) }];
  });
  const variances = measured.map(({ variance }) => variance);
  const noise = { variances, ys: measured.map(({ y }) => y), log: 0 };
  return linesOf(measured, [noise], {
    evening: EVENING.logSpread,
    setUp: SET_UP.logSpread,
    // Two degrees of freedom an arrow.
    perArrow: 1 / 4,
  });
}

/** Mean of the log of a root mean square on df degrees of freedom less that of the spread. */
export function logBias(df: number): number {
  // Of digamma(df / 2) less log(df / 2), halved: its series to two terms, within 0.01 from df = 2.
  return -1 / (2 * df) - 1 / (6 * df ** 2);
}

/** Variance of that log: a quarter of trigamma(df / 2), by three terms of its series. */
export function logVariance(df: number): number {
  return 1 / (2 * df) + 1 / (2 * df ** 2) + 1 / (3 * df ** 3);
}

interface Noise {
  /** By cell: variance of what it says, but for its evening and set-up. */
  readonly variances: readonly number[];
  readonly ys: readonly number[];
  readonly log: number;
}

function linesOf(
  cells: readonly { readonly place: number; readonly sessionId: string; readonly y: number }[],
  noises: readonly Noise[],
  about: {
    readonly evening: { readonly medianSd: number; readonly logSd: number };
    readonly setUp: { readonly medianSd: number; readonly logSd: number };
    readonly perArrow: number;
  },
): EveningLines {
  const evenings = blocksBy(cells.map(({ sessionId }) => sessionId));
  const ways = noises.flatMap((noise) =>
    placedOrNone(about.setUp).flatMap((setUp) =>
      placed(about.evening, PLACES.many).map((evening) => ({ noise, setUp, evening })),
    ),
  );
  return {
    cells,
    ofSetUp: ways.map(({ setUp }) => setUp.sd),
    perArrow: about.perArrow,
    suppose: (rows) =>
      ways.map(({ noise, setUp, evening }) => {
        const precisions = noise.variances.map((variance) => 1 / (variance + setUp.sd ** 2));
        const shape = { blockVariance: evening.sd ** 2, size: rows[0]?.length ?? 0 };
        return {
          sums: lineSums({ rows, y: noise.ys, precisions }, evenings, shape),
          log: noise.log + setUp.log + evening.log,
        };
      }),
  };
}

/**
 * What means of known variances say of the one they share, with the log of how well their scatter fits
 * these variances, up to a constant.
 */
function together(means: readonly { readonly y: number; readonly variance: number }[]): {
  readonly y: number;
  readonly variance: number;
  readonly logWithin: number;
} {
  const precision = means.reduce((sum, { variance }) => sum + 1 / variance, 0);
  const y = means.reduce((sum, one) => sum + one.y / one.variance, 0) / precision;
  const squares = means.reduce((sum, one) => sum + (one.y - y) ** 2 / one.variance, 0);
  const logs = means.reduce((sum, { variance }) => sum + Math.log(variance), 0);
  return {
    y,
    variance: 1 / precision,
    logWithin: -(squares + logs + Math.log(precision)) / 2,
  };
}

type Scored = readonly { readonly ends: readonly { readonly n: number }[] }[];

function arrowsAnEnd(cells: Scored): number {
  const counts = cells.flatMap(({ ends }) => ends.map(({ n }) => n));
  return counts.length === 0 ? 0 : meanOf(counts);
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
