import { ENGLISH, type Words } from '../words/words.ts';
import normal from '@stdlib/stats-base-dists-normal';
import student from '@stdlib/stats-base-dists-t';
import {
  combination,
  unitCovariance,
  updateNormalInverseGamma,
  type NormalInverseGamma,
  type StudentT,
  type WeightedObservation,
} from '../tuning/response/normal-inverse-gamma.ts';
import { pooledSquares } from './pooled-spread.ts';
import { shotAs, type TrendEnd } from './trend-ends.ts';

export interface Difference {
  /** Probability that the second set-up is better. */
  readonly pSecondBetter: number;
  /** By value: points an arrow more. By spread: the second's spread over the first's. */
  readonly effect: number;
  readonly interval90: [number, number];
  readonly verdict: 'first' | 'second' | 'alike' | 'undecided';
  /** Further arrows with each that would probably decide it; null when decided or out of reach. */
  readonly arrowsNeeded: number | null;
}

export interface Comparison {
  readonly first: { readonly setUpId: string; readonly arrows: number; readonly misses: number };
  readonly second: { readonly setUpId: string; readonly arrows: number; readonly misses: number };
  /** Sessions in which both were shot: they count most, for the day is the same. */
  readonly pairedSessions: number;
  /** Null while one of the two has no arrows at a distance and face that the other has. */
  readonly byValue: Difference | null;
  readonly bySpread: Difference | null;
  readonly summary: string;
}

const SURE = 0.95;
/** Before shooting: how far apart two set-ups of one bow usually are (own judgement). */
const USUAL = { value: 0.5, logSpread: 0.2 };
/** What a session differs from others with the same set-up (own judgement). */
const SESSION = { value: 0.25, logSpread: 0.1 };
/** Differences below this are none to an archer: points an arrow, and log of spread. */
const ALIKE = { value: 0.1, logSpread: 0.05 };

/**
 * Which of two set-ups scores better, and which groups tighter. Both are conjugate linear models
 * with a level per distance and face, a random level per session and the difference as one
 * coefficient, so that ends shot on the same day are compared with one another.
 */
export function compareSetUps(
  ends: readonly TrendEnd[],
  first: string,
  second: string,
  words: Words = ENGLISH,
): Comparison {
  const own = ends.filter((end) => end.setUpId === first || end.setUpId === second);
  const value = valueDifference(own, second);
  const spread = spreadDifference(own, second);
  const counts = (setUpId: string) => {
    const mine = own.filter((end) => end.setUpId === setUpId);
    return {
      setUpId,
      arrows: mine.reduce((sum, end) => sum + end.values.length, 0),
      misses: mine.reduce((sum, end) => sum + end.misses, 0),
    };
  };
  const sessionsOf = (setUpId: string) =>
    new Set(own.filter((end) => end.setUpId === setUpId).map((end) => end.sessionId));
  const mine = sessionsOf(second);
  const pairedSessions = [...sessionsOf(first)].filter((session) => mine.has(session)).length;
  return {
    first: counts(first),
    second: counts(second),
    pairedSessions,
    byValue: value,
    bySpread: spread,
    summary: summaryOf(value, spread, words),
  };
}

interface Cell {
  readonly stratum: string;
  readonly sessionId: string;
  readonly isSecond: boolean;
  readonly ends: TrendEnd[];
}

/** Ends of one set-up in one session at one distance and face, where both set-ups were shot. */
function cellsOf(ends: readonly TrendEnd[], second: string): Cell[] {
  const cells = new Map<string, Cell>();
  for (const end of ends) {
    const stratum = shotAs(end);
    const isSecond = end.setUpId === second;
    const key = `${stratum} ${end.sessionId} ${isSecond ? 2 : 1}`;
    const cell = cells.get(key) ?? { stratum, sessionId: end.sessionId, isSecond, ends: [] };
    cell.ends.push(end);
    cells.set(key, cell);
  }
  const all = [...cells.values()];
  return all.filter(({ stratum, isSecond }) =>
    all.some((other) => other.stratum === stratum && other.isSecond !== isSecond),
  );
}

function valueDifference(ends: readonly TrendEnd[], second: string): Difference | null {
  const rows: Row[] = [];
  let [squares, df, arrows] = [0, 0, 0];
  for (const cell of cellsOf(ends, second)) {
    const values = cell.ends.flatMap((end) => end.values);
    if (values.length === 0) continue;
    const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
    squares += values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
    df += values.length - 1;
    arrows += values.length;
    rows.push({ cell, y: mean, weight: values.length });
  }
  if (!hasBoth(rows)) return null;
  // One point an arrow on two degrees of freedom: enough to start from, soon outweighed.
  const noise = { shape: 1 + df / 2, rate: 1 + squares / 2 };
  const difference = fit(rows, noise, { usual: USUAL.value, session: SESSION.value, level: 20 });
  const perArrow = noise.rate / noise.shape;
  return decide(difference, {
    alike: ALIKE.value,
    sense: 1,
    informationPerArrow: 1 / (2 * perArrow),
    show: (x) => x,
    enough: arrows > 0,
  });
}

function spreadDifference(ends: readonly TrendEnd[], second: string): Difference | null {
  const rows: Row[] = [];
  for (const cell of cellsOf(ends, second)) {
    const { squaresMrad2, df } = pooledSquares(cell.ends);
    if (df === 0 || squaresMrad2 <= 0) continue;
    // The log of a root mean square on v degrees of freedom: 1/(2v) low, variance 1/(2v).
    rows.push({ cell, y: Math.log(squaresMrad2 / df) / 2 + 1 / (2 * df), weight: 2 * df });
  }
  if (!hasBoth(rows)) return null;
  const noise = { shape: 500, rate: 500 };
  const difference = fit(rows, noise, {
    usual: USUAL.logSpread,
    session: SESSION.logSpread,
    level: 5,
  });
  return decide(difference, {
    alike: ALIKE.logSpread,
    sense: -1,
    // Two degrees of freedom an arrow; variance 1/(2v) each, both set-ups.
    informationPerArrow: 2,
    show: Math.exp,
    enough: true,
  });
}

interface Row {
  readonly cell: Cell;
  readonly y: number;
  readonly weight: number;
}

function hasBoth(rows: readonly Row[]): boolean {
  return rows.some((row) => row.cell.isSecond) && rows.some((row) => !row.cell.isSecond);
}

/** Posterior of the second set-up's level less the first's. */
function fit(
  rows: readonly Row[],
  noise: { readonly shape: number; readonly rate: number },
  sd: { readonly usual: number; readonly session: number; readonly level: number },
): StudentT {
  const strata = [...new Set(rows.map((row) => row.cell.stratum))];
  const sessions = [...new Set(rows.map((row) => row.cell.sessionId))];
  const variance = noise.rate / noise.shape;
  const sds = [sd.usual, ...strata.map(() => sd.level), ...sessions.map(() => sd.session)];
  const prior: NormalInverseGamma = {
    mean: sds.map(() => 0),
    precision: sds.map((one, i) => sds.map((_, j) => (i === j ? variance / one ** 2 : 0))),
    ...noise,
  };
  const centre = rows.reduce((sum, row) => sum + row.y, 0) / rows.length;
  const law = updateNormalInverseGamma(
    prior,
    rows.map(({ cell, y, weight }): WeightedObservation => ({
      x: [
        cell.isSecond ? 0.5 : -0.5,
        ...strata.map((stratum) => (stratum === cell.stratum ? 1 : 0)),
        ...sessions.map((session) => (session === cell.sessionId ? 1 : 0)),
      ],
      y: y - centre,
      weight,
    })),
  );
  return combination(law, unitCovariance(law), [1, ...sds.slice(1).map(() => 0)]);
}

function decide(
  { mean, scale, df }: StudentT,
  options: {
    readonly alike: number;
    /** 1 when more is better. */
    readonly sense: 1 | -1;
    readonly informationPerArrow: number;
    readonly show: (x: number) => number;
    readonly enough: boolean;
  },
): Difference {
  const { alike, sense, show } = options;
  const above = (x: number) => student.cdf((mean - x) / scale, df);
  const pSecondBetter = sense > 0 ? above(0) : 1 - above(0);
  const half = student.quantile(0.95, df) * scale;
  const pAlike = above(-alike) - above(alike);
  const verdict =
    pAlike >= 0.8
      ? 'alike'
      : pSecondBetter >= SURE
        ? 'second'
        : pSecondBetter <= 1 - SURE
          ? 'first'
          : 'undecided';
  return {
    pSecondBetter,
    effect: show(mean),
    interval90: [show(mean - half), show(mean + half)],
    verdict,
    arrowsNeeded:
      verdict === 'undecided' && options.enough
        ? arrowsNeeded({ mean, scale }, { alike, perArrow: options.informationPerArrow })
        : null,
  };
}

const NEEDED_AT_MOST = 1000;

/**
 * Further arrows with each set-up, shot on the same days, after which the difference is probably
 * (four times in five) sure one way or known to be too small to matter.
 */
function arrowsNeeded(
  now: { readonly mean: number; readonly scale: number },
  { alike, perArrow }: { readonly alike: number; readonly perArrow: number },
): number | null {
  for (let arrows = 6; arrows <= NEEDED_AT_MOST; arrows += 6) {
    const then = 1 / (1 / now.scale ** 2 + arrows * perArrow);
    const moves = Math.sqrt(now.scale ** 2 - then);
    const within = (limit: number) =>
      limit <= 0
        ? 0
        : normal.cdf((limit - now.mean) / moves, 0, 1) -
          normal.cdf((-limit - now.mean) / moves, 0, 1);
    const sureFrom = 1.645 * Math.sqrt(then);
    const alikeTo = alike - 0.84 * Math.sqrt(then);
    const settled = alikeTo >= sureFrom ? 1 : 1 - within(sureFrom) + within(alikeTo);
    if (settled >= 0.8) return arrows;
  }
  return null;
}

function summaryOf(value: Difference | null, spread: Difference | null, words: Words): string {
  if (!value && !spread) {
    return words.say(
      'The two set-ups have no distance and face in common yet: shoot both on one day, by turns.',
    );
  }
  const parts: string[] = [];
  if (value) parts.push(valueWords(value, words));
  if (spread) parts.push(spreadWords(spread, words));
  return parts.join(' ');
}

function percent(p: number, words: Words): string {
  return words.percent(Math.round(Math.min(0.99, Math.max(0.01, p)) * 100));
}

function valueWords(
  { verdict, effect, pSecondBetter, arrowsNeeded: more }: Difference,
  words: Words,
): string {
  const { say } = words;
  const said = {
    size: say('{points} points an arrow', { points: words.number(Math.abs(effect), 2) }),
    p: percent(Math.max(pSecondBetter, 1 - pSecondBetter), words),
  };
  if (verdict === 'alike') return say('They score alike, as far as it matters.');
  if (verdict === 'undecided') {
    const lead = say(
      pSecondBetter >= 0.5
        ? 'Which scores better is undecided: the second leads by {size} ({p}).'
        : 'Which scores better is undecided: the first leads by {size} ({p}).',
      said,
    );
    return `${lead} ${moreWords(more, words)}`;
  }
  return say(
    verdict === 'second'
      ? 'The second scores better by {size} ({p}).'
      : 'The first scores better by {size} ({p}).',
    said,
  );
}

function spreadWords(
  { verdict, effect, pSecondBetter, arrowsNeeded: more }: Difference,
  words: Words,
): string {
  const { say } = words;
  const times = words.number(effect, 2);
  if (verdict === 'alike') return say('They group alike.');
  if (verdict === 'undecided') {
    const open = say(
      'Which groups tighter is undecided: the second has {times} times the spread of the first ({p} that it is tighter).',
      { times, p: percent(pSecondBetter, words) },
    );
    return `${open} ${moreWords(more, words)}`;
  }
  return say(
    verdict === 'second'
      ? 'The second groups tighter: the second has {times} times the spread of the first ({p}).'
      : 'The first groups tighter: the second has {times} times the spread of the first ({p}).',
    { times, p: percent(Math.max(pSecondBetter, 1 - pSecondBetter), words) },
  );
}

function moreWords(more: number | null, { say }: Words): string {
  return more === null
    ? say('More than {most} arrows with each would be needed.', { most: NEEDED_AT_MOST })
    : say(
        'About {more} more arrows with each, by turns on the same days, would probably decide it.',
        { more },
      );
}
