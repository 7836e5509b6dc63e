import normal from '@stdlib/stats-base-dists-normal';
import { groupsOf } from '../../src/groups/groups-of.ts';
import { readLogWithDoubts } from '../../src/tuning/read-log.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { keep, QUIET, shootOne, type Evening } from '../simulation/kept-evenings.ts';
import { chance, type Chance } from '../simulation/virtual-archer.ts';
import { ADJUSTERS, setUpOf } from './bench-log.ts';

const BOW: Bow = { id: 'bow', archerId: 'a', name: 'Bow', hand: 'right', adjusters: ADJUSTERS, notes: '' }; // prettier-ignore
/** Median effect of a click, mrad, with gains 40 % about it. */
const CLICK_MRAD = 0.35;
const GAIN_LOG_SD = 0.4;
/** Changes of the plunger in a history, one of them written down the wrong way round. */
const CHANGES = 6;
const BARE_RATIO = 1.2;
const FALSE_FLAGS = 0.03;

export interface Doubts {
  /** Clicks of the change that is written down the wrong way round; the others are of 2 to 12. */
  readonly clicks: number;
  readonly endsEach: number;
  readonly sigmaMrad: number;
}

/** A history of plunger changes; what is asked about after its last end, if anything. */
function playDoubts({ clicks, endsEach, sigmaMrad }: Doubts, reversed: boolean, luck: Chance) {
  const { uniform, normal: gauss } = luck;
  const perClick = -CLICK_MRAD * Math.exp(GAIN_LOG_SD * gauss());
  const at = 1 + Math.floor(CHANGES * uniform());
  const changes = Array.from({ length: CHANGES + 1 }, (_, i) => {
    if (i === 0) return 0;
    const size = i === at ? clicks : 2 + Math.floor(11 * uniform());
    return uniform() < 0.5 ? size : -size;
  });
  let [set, written] = [50, 50];
  const setUps: SetUp[] = [];
  const evenings: Evening[] = [];
  changes.forEach((change, i) => {
    set += change;
    written += reversed && i === at ? -change : change;
    const day = new Date(Date.UTC(2031, 2, 1 + i, 9)).toISOString();
    setUps.push(setUpOf(`u${i}`, day, { clicks: written, nockMm: 10 }, [0, 0]));
    // Two changes an evening.
    evenings.push({
      ...QUIET,
      sessionId: `s${Math.floor(i / 2)}`,
      setUpId: `u${i}`,
      ends: endsEach,
      sigmaMrad,
      bareRatio: BARE_RATIO,
      offsetMrad: [perClick * (set - 50), 0],
    });
  });
  const kept = keep(evenings, luck);
  const log = { setUps, sessions: [...kept.sessions], ends: [...kept.ends] };
  const { doubted } = readLogWithDoubts(BOW, log, { setUpId: `u${CHANGES}`, distanceM: 30 })!;
  const asked = log.ends.find(({ id }) => id === doubted?.endId)?.setUpId;
  return { isFlagged: asked !== undefined, isRight: asked === `u${at}` };
}

/**
 * What no test whatever can better: the share of reversed entries found where one in so many good ones is asked
 * about, were the effect of a click, the spread and which change is in doubt all known (Neyman and Pearson 1933: the
 * likelihood ratio of two normal laws, of the ends before the change against those after it).
 */
export function mostThatCanBeFound({ clicks, endsEach, sigmaMrad }: Doubts): number {
  const ofEnd = sigmaMrad * Math.sqrt(1 / QUIET.fletched + BARE_RATIO ** 2 / QUIET.bare);
  // Gains differ from bow to bow: the mean over them, by their quantiles, and over which change it is.
  const gains = Array.from({ length: 41 }, (_, i) =>
    Math.exp(GAIN_LOG_SD * normal.quantile((i + 0.5) / 41, 0, 1)),
  );
  const places = Array.from({ length: CHANGES }, (_, i) => i + 1);
  let found = 0;
  for (const gain of gains) {
    for (const before of places) {
      const after = CHANGES + 1 - before;
      const noise = ofEnd * Math.sqrt((1 / before + 1 / after) / endsEach);
      const apart = (2 * clicks * CLICK_MRAD * gain) / noise;
      found += normal.cdf(apart - normal.quantile(1 - FALSE_FLAGS, 0, 1), 0, 1);
    }
  }
  return found / gains.length / places.length;
}

export function measureDoubts(
  about: Doubts,
  { histories, seed }: { readonly histories: number; readonly seed: number },
): {
  readonly found: number;
  /** Of changes that were written down rightly, in histories without any that was not. */
  readonly falseFlags: number;
} {
  let [found, flagged] = [0, 0];
  for (let i = 0; i < histories; i++) {
    if (playDoubts(about, true, chance(7919 * seed + 31 * i)).isRight) found++;
    if (playDoubts(about, false, chance(7919 * seed + 31 * i + 1)).isFlagged) flagged++;
  }
  return { found: found / histories, falseFlags: flagged / histories / CHANGES };
}

/** What one wild arrow of an end does to what is called sure. */
export interface WildEnd {
  readonly fletched: number;
  readonly bare: number;
  readonly wild: 'none' | 'fletched' | 'bare';
  /** How far it flies beside where it would have landed, in spreads. */
  readonly bySigmas: number;
}

export function measureWild(
  { fletched, bare, wild, bySigmas }: WildEnd,
  {
    offMrad,
    ends,
    seed,
  }: { readonly offMrad: number; readonly ends: number; readonly seed: number },
): { readonly sure: number; readonly wrong: number; readonly idle: number } {
  let [sure, wrong, idle] = [0, 0, 0];
  for (let i = 0; i < ends; i++) {
    const luck = chance(7919 * seed + 31 * i);
    const sigmaMrad = 0.8 * 5 ** luck.uniform();
    const offsetMrad = [offMrad * luck.normal(), offMrad * luck.normal()] as const;
    const arrows = [...shootOne({ ...QUIET, fletched, bare, sigmaMrad, offsetMrad }, luck)];
    const place = wild === 'fletched' ? 0 : wild === 'bare' ? fletched : -1;
    const way = 2 * Math.PI * luck.uniform();
    if (place >= 0) {
      const far = bySigmas * sigmaMrad * QUIET.distanceM;
      const { kind, value, mm } = arrows[place]!;
      arrows[place] = {
        kind,
        value,
        mm: [mm[0] + far * Math.cos(way), mm[1] + far * Math.sin(way)],
      };
    }
    const { distanceM } = QUIET;
    const tuning = readTuning(groupsOf(arrows, { distanceM }), { hand: 'right', distanceM })!;
    for (const [axis, { direction, certainty }] of [tuning.horizontal, tuning.vertical].entries()) {
      if (certainty !== 'sure' || direction === 'level') continue;
      sure++;
      const truth = offsetMrad[axis]!;
      if ((direction === 'right' || direction === 'high') !== truth > 0) wrong++;
      if (Math.abs(truth) <= 0.7) idle++;
    }
  }
  return {
    sure: sure / (2 * ends),
    wrong: wrong / Math.max(1, sure),
    idle: idle / Math.max(1, sure),
  };
}

const percent = (x: number, width: number) => (100 * x).toFixed(1).padStart(width);

/** Entries that are written down the wrong way round, beside what can be found at all; and single wild arrows. */
export function doubtsBench(options: {
  readonly histories?: number;
  readonly ends?: number;
  readonly seed?: number;
}): void {
  const { histories = 100, ends = 1000, seed = 1 } = options;
  console.log(`Entries the wrong way round, ${histories} histories each, seed ${seed}; asked: 80 % found, false flags under 3 % of changes`); // prettier-ignore
  console.log('sigma mrad  clicks  ends each   found   at most   false flags, %');
  for (const sigmaMrad of [1, 1.8]) {
    for (const clicks of [2, 4, 8]) {
      for (const endsEach of [1, 3]) {
        const about = { clicks, endsEach, sigmaMrad };
        const { found, falseFlags } = measureDoubts(about, { histories, seed });
        console.log(
          `${sigmaMrad.toFixed(1).padStart(10)}${String(clicks).padStart(8)}${String(endsEach).padStart(11)}${percent(found, 8)}${percent(mostThatCanBeFound(about), 10)}${percent(falseFlags, 16)}`,
        );
      }
    }
  }
  console.log(`\nOne wild arrow in an end, no log, ${ends} ends each; % of coordinates`);
  console.log(
    'arrows  off mrad  wild                 sure   of these wrong side   within the dead zone',
  );
  for (const [fletched, bare] of [
    [3, 2],
    [6, 3],
  ] as const) {
    // prettier-ignore
    for (const offMrad of [0.2, 1.5, 4]) {
      for (const [wild, bySigmas] of [['none', 0], ['fletched', 4], ['bare', 4], ['bare', 8]] as const) { // prettier-ignore
        const { sure, wrong, idle } = measureWild({ fletched, bare, wild, bySigmas }, { offMrad, ends, seed }); // prettier-ignore
        console.log(
          `${fletched} + ${bare} ${offMrad.toFixed(1).padStart(8)}  ${`${wild} by ${bySigmas}`.padEnd(16)}${percent(sure, 9)}${percent(wrong, 20)}${percent(idle, 22)}`,
        );
      }
    }
  }
}
