import { groupsOf } from '../../src/groups/groups-of.ts';
import { centralInterval } from '../../src/tuning/response/axis-law.ts';
import { responseEnds } from '../../src/tuning/response/response-ends.ts';
import { responseModel, slopeLaw } from '../../src/tuning/response/response-model.ts';
import { readLog } from '../../src/tuning/read-log.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { compareArrows } from '../../src/trends/arrow-places.ts';
import { compareSetUps } from '../../src/trends/compare-set-ups.ts';
import { setUpFigures } from '../../src/trends/set-up-figures.ts';
import { spreadAgainstDistance } from '../../src/trends/spread-against-distance.ts';
import { timeline } from '../../src/trends/timeline.ts';
import { trendEnds } from '../../src/trends/trend-ends.ts';
import { walkBack } from '../../src/trends/walk-back.ts';
import { steadyWithinEnds } from '../../src/trends/within-ends.ts';
import {
  ARCHERS,
  DESIGNS,
  eveningsOf,
  worth,
  type Design,
  type Restlessness,
} from '../simulation/evenings-of-set-ups.ts';
import { keep, QUIET, shootOne, type Evening } from '../simulation/kept-evenings.ts';
import { numberedShots, type NumberedShooting } from '../simulation/numbered-ends.ts';
import { chance, type Chance } from '../simulation/virtual-archer.ts';
import { ADJUSTERS, setUpOf } from './bench-log.ts';

/** Whether each of the intervals of one draw holds the truth. */
type Draw = (luck: Chance) => readonly boolean[];

export interface IntervalRow {
  readonly name: string;
  readonly when: string;
  /** Least and most that is asked for, %. */
  readonly asked: readonly [number, number] | null;
  /** How much of the full number of draws is enough: costly ones are fewer. */
  readonly share: number;
  readonly draw: Draw;
}

const NINETY = [88, 92] as const;
const AT_LEAST_87 = [87, 100] as const;
const AT_LEAST_85 = [85, 100] as const;

type Shooting = Omit<Evening, 'sessionId' | 'setUpId'>;
const within = ([low, high]: readonly number[], truth: number) => low! <= truth && truth <= high!;

/** A spread that somebody shoots, mrad: 0.8 to 4, evenly in its log. */
const anySigma = ({ uniform }: Chance) => 0.8 * 5 ** uniform();

function offsetRow(
  when: string,
  more: Partial<Shooting>,
  asked: IntervalRow['asked'] = NINETY,
): IntervalRow {
  return {
    name: 'Offset of an end (region)',
    when,
    asked,
    share: 1,
    draw: (luck) => {
      const shooting = { ...QUIET, sigmaMrad: anySigma(luck), ...more };
      const { region90Mrad } = groupsOf(shootOne(shooting, luck), shooting).offset!;
      const { centre, semiAxes } = region90Mrad!;
      return [Math.hypot(...centre) <= semiAxes[0]];
    },
  };
}

function trend(evenings: readonly Evening[], luck: Chance) {
  return trendEnds(keep(evenings, luck));
}

function evening(sessionId: string, more: Partial<Evening>): Evening {
  return { ...QUIET, setUpId: 'u', sessionId, ...more };
}

function timelineRows(when: string, more: Partial<Shooting>): IntervalRow[] {
  const pointOf = (luck: Chance) => {
    const sigmaMrad = anySigma(luck);
    const [point] = timeline(trend([evening('s', { sigmaMrad, ...more })], luck)).points;
    return { point: point!, sigmaMrad };
  };
  return [
    {
      name: 'Timeline: offset of a session',
      when,
      asked: NINETY,
      share: 0.5,
      draw: (luck) => {
        const { mrad, half90Mrad } = pointOf(luck).point.offset!;
        return mrad.map((one) => Math.abs(one) <= half90Mrad);
      },
    },
    {
      name: 'Timeline: spread of a session',
      when,
      asked: NINETY,
      share: 0.5,
      draw: (luck) => {
        const { point, sigmaMrad } = pointOf(luck);
        return [within(point.spread!.interval90, sigmaMrad)];
      },
    },
  ];
}

/** Four evenings, three distances each; groups grow in step with distance, or as `power` says. */
function growthRow(
  when: string,
  about: { daySd: number; hereSd?: number; power?: number },
): IntervalRow {
  const { daySd, hereSd = 0, power = 1 } = about;
  return {
    name: 'Growth of groups with distance',
    when,
    asked: NINETY,
    share: 0.1,
    draw: (luck) => {
      const sigma = anySigma(luck);
      const evenings = [1, 2, 3, 4].flatMap((day) => {
        const form = Math.exp(daySd * luck.normal());
        return [18, 30, 50].map((distanceM) =>
          evening(`s${day}`, {
            distanceM,
            ends: 3,
            sigmaMrad:
              sigma * form * Math.exp(hereSd * luck.normal()) * (distanceM / 30) ** (power - 1),
          }),
        );
      });
      const ends = trend(evenings, luck).map((end) => ({
        ...end,
        sessionId: end.sessionId.split(' ')[0]!,
      }));
      return [within(spreadAgainstDistance(ends).slope!.interval90, power)];
    },
  };
}

/** @param aimOf how far the aims of ends scatter; of one sort if it asks no luck */
function walkBackRow(
  when: string,
  aimOf: number | ((luck: Chance) => number),
  ends: number,
): IntervalRow {
  return {
    name: 'Walk-back: drift a metre',
    when,
    asked: typeof aimOf === 'number' ? AT_LEAST_85 : NINETY,
    share: 0.5,
    draw: (luck) => {
      const aimMrad = typeof aimOf === 'number' ? aimOf : aimOf(luck);
      const drift = 0.8 * luck.normal();
      const sigmaMrad = anySigma(luck);
      const evenings = [10, 20, 30, 40].map((distanceM) =>
        evening('s', { distanceM, ends, bare: 0, sigmaMrad, aimMrad, sightMrad: [drift, 0] }),
      );
      return [within(walkBack(trend(evenings, luck)).drift!.interval90, drift)];
    },
  };
}

/** From steady to restless, mrad. */
const anyAim = ({ normal }: Chance) => 0.6 * Math.exp(0.7 * normal());

/** What a bow does: mrad where it stands at first, and by a click and a mm [right, up]. */
interface Answer {
  readonly base: readonly [number, number];
  readonly click: readonly [number, number];
  readonly mm: readonly [number, number];
}

interface Tuning {
  readonly offMrad: number;
  readonly windMrad?: number;
  readonly preferredMrad?: readonly [number, number];
  /** Of how many evenings, four ends each. */
  readonly evenings?: number;
  readonly wild?: number;
  readonly dayMrad?: number;
  /** How strongly the adjusters act beside what is usual. @default 1 */
  readonly times?: number;
  /** Bows, adjusters and evenings as a log of which nothing is known expects them. @default false */
  readonly everySort?: boolean;
}

/** One of these, each as often as its weight says. */
function oneOf(weighed: readonly (readonly [number, number])[], { uniform }: Chance): number {
  let left = uniform() * weighed.reduce((sum, [, weight]) => sum + weight, 0);
  for (const [value, weight] of weighed) {
    left -= weight;
    if (left < 0) return value;
  }
  return weighed.at(-1)![0];
}

/** How a bow answers. */
function answerOf({ times = 1, everySort = false }: Tuning, luck: Chance): Omit<Answer, 'base'> {
  const { uniform, normal } = luck;
  const turned = () => (uniform() < 0.05 ? -1 : 1);
  if (everySort) {
    const [click, mm] = [(-0.35 + 0.25 * normal()) * turned(), (-1.6 + normal()) * turned()];
    return { click: [click, 0.06 * normal()], mm: [0.3 * normal(), mm] };
  }
  const cross = () => (uniform() < 0.5 ? -1 : 1) * (0.1 + 0.1 * uniform());
  const click = -0.35 * times * Math.exp(0.4 * normal()) * turned();
  const mm = -1.5 * times * Math.exp(0.4 * normal()) * turned();
  return { click: [click, click * cross()], mm: [mm * cross(), mm] };
}

/** A bow whose plunger and nocking point were tried at several places, and what the log says of it. */
function playTuning(about: Tuning, luck: Chance) {
  const { windMrad = 0, preferredMrad = [0, 0], evenings = 4, wild = 0, everySort = false } = about;
  const { uniform, normal } = luck;
  const offMrad = everySort ? oneOf([[0.15, 1.5], [0.5, 0.3], [1.5, 1], [6, 0.7]], luck) : about.offMrad; // prettier-ignore
  const dayMrad = everySort ? oneOf([[0.4, 4], [0.8, 2], [1.6, 1]], luck) : about.dayMrad ?? 0.4; // prettier-ignore
  const answer: Answer = {
    base: [preferredMrad[0] + offMrad * normal(), preferredMrad[1] + offMrad * normal()],
    ...answerOf(about, luck),
  };
  const offsetAt = ({ clicks, nockMm }: { clicks: number; nockMm: number }, axis: 0 | 1) =>
    answer.base[axis] + answer.click[axis] * (clicks - 50) + answer.mm[axis] * (nockMm - 10);
  const sigmaMrad = 0.8 * 4 ** uniform();
  const bareRatio = 1.2 * Math.exp(0.2 * normal());
  const setUps: SetUp[] = [];
  const played: Evening[] = [];
  let settings = { clicks: 50, nockMm: 10 };
  for (let day = 0; day < evenings; day++) {
    const wind = day === 1 ? windMrad : 0;
    const way = 2 * Math.PI * uniform();
    const level = [
      dayMrad * normal() + wind * Math.cos(way),
      dayMrad * normal() + wind * Math.sin(way),
    ] as const;
    for (let end = 0; end < 4; end++) {
      if ((day > 0 || end > 0) && end % 2 === 0) {
        const by = (most: number) => Math.round(most * (2 * uniform() - 1));
        settings =
          uniform() < 0.5
            ? { ...settings, clicks: 50 + by(12) }
            : { ...settings, nockMm: 10 + by(4) / 2 };
      }
      const setUpId = `u${day}-${end}`;
      const at = new Date(Date.UTC(2031, 2, 1 + day, 9, end)).toISOString();
      setUps.push(setUpOf(setUpId, at, settings, preferredMrad));
      const offset = [offsetAt(settings, 0) + level[0], offsetAt(settings, 1) + level[1]] as const;
      played.push(evening(`s${day}`, { setUpId, sigmaMrad, bareRatio, offsetMrad: offset, wild }));
    }
  }
  const bow: Bow = { id: 'bow', archerId: 'a', name: 'Bow', hand: 'right', adjusters: ADJUSTERS, notes: '' }; // prettier-ignore
  const kept = keep(played, luck);
  const log = { setUps, sessions: [...kept.sessions], ends: [...kept.ends] };
  return { bow, log, settings, answer, truth: [offsetAt(settings, 0), offsetAt(settings, 1)] };
}

function tuningRows(
  when: string,
  about: Tuning,
  asked: IntervalRow['asked'] = AT_LEAST_85,
): IntervalRow[] {
  return [
    {
      name: 'Offset by the log',
      when,
      asked,
      share: 0.2,
      draw: (luck) => {
        const { bow, log, truth } = playTuning(about, luck);
        const { offsetMrad } = readLog(bow, log, { setUpId: log.setUps.at(-1)!.id, distanceM: 30 })!; // prettier-ignore
        return [
          within(centralInterval(offsetMrad.horizontal, 0.9), truth[0]!),
          within(centralInterval(offsetMrad.vertical, 0.9), truth[1]!),
        ];
      },
    },
    {
      name: 'Effect of a click and of a mm',
      when,
      asked,
      share: 0.2,
      draw: (luck) => {
        const { bow, log, settings, answer } = playTuning(about, luck);
        const present = { plunger: settings.clicks, nock: settings.nockMm };
        const { axes } = responseModel(bow, responseEnds(bow, log), {
          present,
          preferredMrad: about.preferredMrad ?? [0, 0],
        });
        const held = (axis: 'horizontal' | 'vertical', id: string, truth: number) => {
          const law = slopeLaw(axes[axis], id);
          return law ? [within(centralInterval(law, 0.9), truth)] : [];
        };
        return [
          ...held('horizontal', 'plunger', answer.click[0]),
          ...held('vertical', 'nock', answer.mm[1]),
        ];
      },
    },
  ];
}

type Archer = (luck: Chance) => Restlessness;

/** What is said of two set-ups whose spreads differ, and what is true: points an arrow, ratio of spreads. */
function playComparison(design: Design, archer: Archer, luck: Chance) {
  const restless = archer(luck);
  const first = 1.2 * 2.5 ** luck.uniform();
  const ratio = Math.exp(0.15 * luck.normal());
  const ends = trend(eveningsOf(design, { first, second: first * ratio }, restless, luck), luck);
  const points = worth(first * ratio, restless) - worth(first, restless);
  return { ends, points, ratio };
}

function comparisonRows(when: string, design: Design, archer: Archer): IntervalRow[] {
  const of =
    (key: 'byValue' | 'bySpread'): Draw =>
    (luck) => {
      const { ends, points, ratio } = playComparison(design, archer, luck);
      const difference = compareSetUps(ends, 'first', 'second')[key]!;
      return [within(difference.interval90, key === 'byValue' ? points : ratio)];
    };
  const asked = askedOf(archer);
  return [
    { name: 'Set-ups compared: points', when, asked, share: 0.2, draw: of('byValue') },
    { name: 'Set-ups compared: spread', when, asked, share: 0.2, draw: of('bySpread') },
  ];
}

/** Figures of one set-up, over evenings that are usual and less usual. */
function figuresRows(when: string, design: Design, archer: Archer): IntervalRow[] {
  const play = (luck: Chance) => {
    const restless = archer(luck);
    const sigma = 1.2 * 2.5 ** luck.uniform();
    const nights = eveningsOf(design, { u: sigma }, restless, luck);
    return { own: setUpFigures(trend(nights, luck), ['u']).setUps[0]!, sigma, restless };
  };
  const asked = askedOf(archer);
  return [
    {
      name: 'Figures of a set-up: average',
      when,
      asked,
      share: 0.2,
      draw: (luck) => {
        const { own, sigma, restless } = play(luck);
        return [within(own.average!.interval90, worth(sigma, restless))];
      },
    },
    {
      name: 'Figures of a set-up: spread',
      when,
      asked,
      share: 0.2,
      draw: (luck) => {
        const { own, sigma } = play(luck);
        return [within(own.spread!.interval90, sigma)];
      },
    },
  ];
}

/** What evenings do is known before of archers of every sort alone; of one sort few evenings cannot tell. */
function askedOf(archer: Archer): IntervalRow['asked'] {
  return archer === ARCHERS['of every sort'] ? NINETY : AT_LEAST_85;
}

function byArchers(
  rowsOf: (when: string, design: Design, archer: Archer) => IntervalRow[],
): IntervalRow[] {
  return Object.entries(ARCHERS).flatMap(([whose, archer]) =>
    Object.entries(DESIGNS).flatMap(([how, design]) => rowsOf(`${whose}: ${how}`, design, archer)),
  );
}

function arrowsRow(
  when: string,
  more: Partial<NumberedShooting>,
  asked: IntervalRow['asked'] = NINETY,
): IntervalRow {
  const shooting = { arrows: 12, perEnd: 6, ends: 20, sigma: 1, aimSd: 1.5, ...more };
  return {
    name: 'Place of an arrow by its number',
    when,
    asked,
    share: 0.05,
    draw: (luck) =>
      compareArrows(steadyWithinEnds(numberedShots(shooting, luck))).arrows.flatMap(
        ({ mrad, half90Mrad }) => mrad.map((one) => Math.abs(one) <= half90Mrad),
      ),
  };
}

const SPREAD_95: IntervalRow = {
  name: 'Spread of a group (95 %)',
  when: '3 arrows',
  asked: [93.5, 96.5],
  share: 1,
  draw: (luck) => {
    const sigmaMrad = anySigma(luck);
    const { fletched } = groupsOf(shootOne({ ...QUIET, sigmaMrad }, luck), QUIET);
    return [within(fletched!.sigmaInterval95Mm!, sigmaMrad * QUIET.distanceM)];
  },
};

/** Every interval that is shown, by name. */
export const INTERVALS: readonly IntervalRow[] = [
  offsetRow('bare as wide', { bareRatio: 1 }),
  offsetRow('bare 1.2 times as wide', {}),
  offsetRow('bare 1.5 times as wide', { bareRatio: 1.5 }),
  offsetRow('bare twice as wide', { bareRatio: 2 }),
  offsetRow('6 + 3 arrows, 1.5 times', { fletched: 6, bare: 3, bareRatio: 1.5 }),
  offsetRow('6 + 3 arrows, twice', { fletched: 6, bare: 3, bareRatio: 2 }),
  offsetRow('aim wanders 0.4 sigma in the end', { driftSigmas: 0.4 }, AT_LEAST_87),
  offsetRow('kinds aimed 0.4 sigma apart', { apartSigmas: 0.4 }, AT_LEAST_87),
  offsetRow('both, bare 1.5 times', { apartSigmas: 0.4, bareRatio: 1.5 }, AT_LEAST_87),
  offsetRow('one arrow in twenty wild, 4 times', { wild: 0.05 }, AT_LEAST_87),
  SPREAD_95,
  ...timelineRows('1 end', { ends: 1 }),
  ...timelineRows('4 ends', { ends: 4 }),
  ...timelineRows('4 ends, bare as wide', { ends: 4, bareRatio: 1 }),
  ...timelineRows('4 ends, bare 1.7 times', { ends: 4, bareRatio: 1.7 }),
  growthRow('steady', { daySd: 0 }),
  growthRow('evenings 10 % apart', { daySd: 0.1 }),
  growthRow('evenings 20 % apart', { daySd: 0.2 }),
  growthRow('and distances 10 %', { daySd: 0.1, hereSd: 0.1 }),
  growthRow('faster than distance', { daySd: 0.1, power: 1.4 }),
  ...[1, 2, 4].flatMap((ends) => [
    walkBackRow(`aims of every sort, ${ends} each`, anyAim, ends),
    ...[0, 0.3, 0.7, 1.2].map((aim) => walkBackRow(`aim ${aim} mrad, ${ends} each`, aim, ends)),
  ]),
  ...tuningRows('bows of every sort', { offMrad: 1, everySort: true }, NINETY),
  ...tuningRows('the same, two evenings', { offMrad: 1, everySort: true, evenings: 2 }, NINETY),
  ...tuningRows('bows 1 mrad off', { offMrad: 1 }),
  ...tuningRows('bows 3 mrad off', { offMrad: 3 }),
  ...tuningRows('with a preferred offset', { offMrad: 1, preferredMrad: [1.5, -2] }),
  ...tuningRows('two evenings', { offMrad: 1, evenings: 2 }),
  ...tuningRows('adjusters act half as much', { offMrad: 1, times: 0.5 }),
  ...tuningRows('adjusters act 1.7 times as much', { offMrad: 1, times: 1.7 }),
  ...tuningRows('evenings 0.9 mrad apart', { offMrad: 1, dayMrad: 0.9 }),
  ...tuningRows('after an evening with 2 mrad of wind', { offMrad: 1, windMrad: 2 }),
  ...tuningRows('one arrow in twenty wild', { offMrad: 1, wild: 0.05 }),
  ...byArchers(comparisonRows),
  ...byArchers(figuresRows),
  arrowsRow('twelve, six an end', {}),
  arrowsRow('one in twenty wild, 3 times', { wild: 0.05 }, AT_LEAST_87),
];

export interface IntervalMeasured {
  readonly held: number;
  readonly of: number;
}

/** How many of the intervals of a row hold the truth. */
export function measureInterval(row: IntervalRow, draws: number, seed: number): IntervalMeasured {
  let [held, of] = [0, 0];
  for (let i = 0; i < Math.ceil(draws * row.share); i++) {
    for (const one of row.draw(chance(7919 * seed + 104729 * i))) {
      of++;
      if (one) held++;
    }
  }
  return { held, of };
}

/** Prints how often every interval that is shown holds the truth. */
export function intervalsBench(options: {
  readonly draws?: number;
  readonly seed?: number;
  readonly only?: string | undefined;
}): void {
  const { draws = 4000, seed = 1, only } = options;
  console.log(`Intervals that hold the truth, up to ${draws} draws each, seed ${seed}; %`);
  console.log(`${'interval'.padEnd(33)}${'when'.padEnd(45)}${'asked'.padStart(10)}${'held'.padStart(8)}${'s.e.'.padStart(6)}`); // prettier-ignore
  for (const row of INTERVALS) {
    if (only && !row.name.startsWith(only)) continue;
    const { held, of } = measureInterval(row, draws, seed);
    const share = held / of;
    const asked = row.asked ? `${row.asked[0]}-${row.asked[1]}` : '';
    const error = Math.sqrt((share * (1 - share)) / of);
    const misses = row.asked && (100 * share < row.asked[0] || 100 * share > row.asked[1]);
    console.log(
      row.name.padEnd(33) +
        row.when.padEnd(45) +
        asked.padStart(10) +
        (100 * share).toFixed(1).padStart(8) +
        (100 * error).toFixed(1).padStart(6) +
        (misses ? '  *' : ''),
    );
  }
}

interface ComparisonMeasured {
  /** Said with 80 to 90 %, and how many of these were right. */
  readonly said: number;
  readonly right: number;
  /** Decided, and how many of these wrongly. */
  readonly decided: number;
  readonly wrong: number;
  readonly of: number;
}

/** What is said of set-ups that are compared, and whether it is so. */
function measureComparison(
  { design, archer }: { readonly design: Design; readonly archer: Archer },
  key: 'byValue' | 'bySpread',
  { draws, seed }: { readonly draws: number; readonly seed: number },
): ComparisonMeasured {
  let [said, right, decided, wrong] = [0, 0, 0, 0];
  for (let i = 0; i < draws; i++) {
    const { ends, points, ratio } = playComparison(
      design,
      archer,
      chance(7919 * seed + 104729 * i + 1),
    );
    const { pSecondBetter, verdict } = compareSetUps(ends, 'first', 'second')[key]!;
    const isRight = pSecondBetter >= 0.5 === (key === 'byValue' ? points > 0 : ratio < 1);
    const p = Math.max(pSecondBetter, 1 - pSecondBetter);
    if (p >= 0.8 && p < 0.9) {
      said++;
      if (isRight) right++;
    }
    if (verdict === 'first' || verdict === 'second') {
      decided++;
      if (!isRight) wrong++;
    }
  }
  return { said, right, decided, wrong, of: draws };
}

/** Prints how often what is said of two set-ups is so, by how they were shot. */
export function comparisonBench(options: {
  readonly draws?: number;
  readonly seed?: number;
}): void {
  const { draws = 400, seed = 1 } = options;
  console.log(`Two set-ups compared, ${draws} pairs each, seed ${seed}; asked: of what is said with 80 to 90 % at least 78 % right, decided and wrong in at most 6 %`); // prettier-ignore
  for (const [whose, archer] of Object.entries(ARCHERS)) {
    console.log(`\nArchers ${whose}`);
    for (const [how, design] of Object.entries(DESIGNS)) {
      for (const key of ['byValue', 'bySpread'] as const) {
        const measured = measureComparison({ design, archer }, key, { draws, seed });
        const { said, right, decided, wrong, of } = measured;
        const percent = (part: number, all: number) =>
          all === 0 ? 'none' : `${((100 * part) / all).toFixed(1)} %`;
        console.log(
          `${how.padEnd(22)} ${(key === 'byValue' ? 'points' : 'spread').padEnd(8)}` +
            `said with 80 to 90 %: ${percent(right, said)} of ${said} right; ` +
            `decided ${percent(decided, of)}, wrongly ${percent(wrong, of)}`,
        );
      }
    }
  }
}
