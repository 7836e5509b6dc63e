import { ENGLISH, type Words } from '../words/words.ts';
import normal from '@stdlib/stats-base-dists-normal';
import {
  centralInterval,
  massAboveValue,
  meanOf,
  type AxisLaw,
} from '../tuning/response/axis-law.ts';
import { spreadLines, valueLines, type EveningCell, type EveningLines } from './evening-noise.ts';
import { lineMixture } from './line-mixture.ts';
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
/**
 * Before shooting: how far apart two set-ups of one bow are, standard deviation, from a click apart to other
 * limbs, each as likely as the others (own judgement). Points an arrow, and log of spread.
 */
const USUAL = { value: [0.12, 0.3, 0.75], logSpread: [0.06, 0.14, 0.35] } as const;
/** Differences below this are none to an archer: points an arrow, and log of spread. */
const ALIKE = { value: 0.1, logSpread: 0.05 };

/**
 * Which of two set-ups scores better, and which groups tighter. Both are linear models with a level per
 * distance and face and the difference as one coefficient; evenings, set-ups by evening and ends have
 * levels of their own, how large they are is learned from the same ends. So ends shot on one evening are
 * compared with one another, and evenings apart tell what evenings apart can.
 */
export function compareSetUps(
  ends: readonly TrendEnd[],
  first: string,
  second: string,
  words: Words = ENGLISH,
): Comparison {
  const own = ends.filter((end) => end.setUpId === first || end.setUpId === second);
  const cells = cellsOf(own, second);
  const value = differenceOf(cells, valueLines(cells), OF.value);
  const spread = differenceOf(cells, spreadLines(cells), OF.spread);
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
    summary: summaryOf(value, spread, { pairedSessions, words }),
  };
}

interface Cell extends EveningCell {
  readonly stratum: string;
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

/** How differences are said: by points, and by spreads. */
interface Scale {
  readonly usual: readonly number[];
  readonly alike: number;
  /** Of a distance and face, before: wide beside anything that is shot. */
  readonly level: number;
  /** 1 when more is better. */
  readonly sense: 1 | -1;
  readonly show: (x: number) => number;
}

const OF = {
  value: { usual: USUAL.value, alike: ALIKE.value, level: 20, sense: 1, show: (x) => x },
  spread: { usual: USUAL.logSpread, alike: ALIKE.logSpread, level: 5, sense: -1, show: Math.exp },
} as const satisfies Record<string, Scale>;

function differenceOf(
  cells: readonly Cell[],
  lines: EveningLines,
  scale: Scale,
): Difference | null {
  const told = lines.cells.map(({ place, y }) => ({ cell: cells[place]!, y }));
  const isTold = (second: boolean) => told.some(({ cell }) => cell.isSecond === second);
  if (!isTold(true) || !isTold(false)) return null;
  const strata = [...new Set(told.map(({ cell }) => cell.stratum))];
  const centre = told.reduce((sum, { y }) => sum + y, 0) / told.length;
  const rows = told.map(({ cell }) => [
    cell.isSecond ? 0.5 : -0.5,
    ...strata.map((stratum) => (stratum === cell.stratum ? 1 : 0)),
  ]);
  const levels = strata.map(() => ({ mean: centre, sd: scale.level }));
  const before = scale.usual.map((sd) => ({ expected: [{ mean: 0, sd }, ...levels], log: 0 }));
  const { laws, shares } = lineMixture(before, lines.suppose(rows));
  const ofSetUp = shares.reduce((sum, share, i) => sum + share * lines.ofSetUp[i]! ** 2, 0);
  return decide(laws[0]!, { ...scale, ofSetUp, perArrow: lines.perArrow });
}

function decide(
  law: AxisLaw,
  about: Scale & { readonly ofSetUp: number; readonly perArrow: number },
): Difference {
  const { alike, sense, show } = about;
  const above = (x: number) => massAboveValue(law, x);
  const pSecondBetter = sense > 0 ? above(0) : 1 - above(0);
  const [low, high] = centralInterval(law, 0.9);
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
    effect: show(meanOf(law)),
    interval90: [show(low), show(high)],
    verdict,
    arrowsNeeded: verdict === 'undecided' ? arrowsNeeded(law, about) : null,
  };
}

const NEEDED_AT_MOST = 1000;
/** With each set-up, in turns, before an archer tires. */
const ARROWS_AN_EVENING = 36;

/**
 * Further arrows with each set-up, shot in turns on the same evenings, after which the difference is
 * probably (four times in five) sure one way or known to be too small to matter.
 */
function arrowsNeeded(
  law: AxisLaw,
  about: { readonly alike: number; readonly ofSetUp: number; readonly perArrow: number },
): number | null {
  const mean = meanOf(law);
  const now = law.parts.reduce(
    (sum, { weight, law: one }) => sum + weight * (one.scale ** 2 + (one.mean - mean) ** 2),
    0,
  );
  for (let arrows = 6; arrows <= NEEDED_AT_MOST; arrows += 6) {
    const evenings = Math.ceil(arrows / ARROWS_AN_EVENING);
    const seen = (2 * about.ofSetUp) / evenings + (2 * about.perArrow) / arrows;
    const then = 1 / (1 / now + 1 / seen);
    const moves = Math.sqrt(now - then);
    const within = (limit: number) =>
      limit <= 0
        ? 0
        : normal.cdf((limit - mean) / moves, 0, 1) - normal.cdf((-limit - mean) / moves, 0, 1);
    const sureFrom = 1.645 * Math.sqrt(then);
    const alikeTo = about.alike - 0.84 * Math.sqrt(then);
    const settled = alikeTo >= sureFrom ? 1 : 1 - within(sureFrom) + within(alikeTo);
    if (settled >= 0.8) return arrows;
  }
  return null;
}

function summaryOf(
  value: Difference | null,
  spread: Difference | null,
  { pairedSessions, words }: { readonly pairedSessions: number; readonly words: Words },
): string {
  if (!value && !spread) {
    return words.say(
      'The two set-ups have no distance and face in common yet: shoot both on one day, by turns.',
    );
  }
  const parts: string[] = [];
  if (value) parts.push(valueWords(value, words));
  if (spread) parts.push(spreadWords(spread, words));
  const isOpen = [value, spread].some((one) => one?.verdict === 'undecided');
  if (isOpen && pairedSessions === 0) {
    parts.push(
      words.say(
        'Never shot on one day: what the days did cannot be told from what the set-ups do. Shoot both on the same day, in turns: first, second, second, first.',
      ),
    );
  }
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
