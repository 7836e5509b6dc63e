import { groupsOf } from '../../src/groups/groups-of.ts';
import { readLog } from '../../src/tuning/read-log.ts';
import type { Tuning } from '../../src/tuning/advice/tuning.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import type { End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { settingAt } from '../../src/tuning/bow/setting-amount.ts';
import { chance, type Chance } from '../simulation/virtual-archer.ts';
import { ADJUSTERS, endOf, sessionOf, setUpOf } from './bench-log.ts';

/** Bows as they come to an archer who obeys the advice; what differs between them is where they start. */
export interface PolicyPopulation {
  /** Of where it is wanted, mrad: least and most, in any direction. */
  readonly from: number;
  readonly to: number;
  /** Spread of fletched arrows per axis, mrad: least and most, evenly in its log. */
  readonly sigmaMrad: readonly [number, number];
  /** Chance of each adjuster to work the other way round. */
  readonly wrongWay: number;
  readonly sessionMrad: number;
  readonly dayLogSd: number;
  readonly wildChance: number;
  /** How long a history is followed. */
  readonly ends: number;
}

const USUAL = {
  sigmaMrad: [0.8, 2.5],
  wrongWay: 0.05,
  sessionMrad: 0.4,
  dayLogSd: 0.1,
  wildChance: 0.01,
  ends: 16,
} as const;
/** Who shoots wide learns little from an end. */
const WIDE = [2.5, 4] as const;

export const POLICY_POPULATIONS = {
  'in tune': { ...USUAL, from: 0, to: 0.3, ends: 10 },
  'slightly off': { ...USUAL, from: 1, to: 3 },
  far: { ...USUAL, from: 5, to: 15, ends: 40 },
  // One of the two adjusters or both.
  'wrong way': { ...USUAL, from: 1, to: 3, wrongWay: 1 },
  restless: { ...USUAL, from: 1, to: 3, sessionMrad: 0.9, dayLogSd: 0.25, wildChance: 0.04 },
  'in tune, wide': { ...USUAL, sigmaMrad: WIDE, from: 0, to: 0.3, ends: 10 },
  'off, wide': { ...USUAL, sigmaMrad: WIDE, from: 1, to: 3 },
} satisfies Record<string, PolicyPopulation>;

export type PolicyPopulationName = keyof typeof POLICY_POPULATIONS;

export interface PolicyResult {
  readonly histories: number;
  /** Share further off after ten ends than at the start, by more than 0.5 and 1 mrad. */
  readonly worseByHalf: number;
  readonly worseByOne: number;
  /** Root mean square distance from what is wanted after ten ends, mrad, and its standard error. */
  readonly rmsAfterTen: number;
  readonly rmsError: number;
  /** Ends until first within 1 mrad. */
  readonly medianEnds: number;
  readonly never: number;
  /** Changes made in the first ten ends. */
  readonly changes: number;
  /** Share of changes that were advised on an axis called undecided. */
  readonly undecidedChanges: number;
}

const SESSION_ENDS = 5;
const FLETCHED = 3;
const BARE = 2;

/** What an archer gets who does every first change that is advised, by populations of bows. */
export function policyBench(
  population: PolicyPopulation,
  { histories, seed }: { readonly histories: number; readonly seed: number },
): PolicyResult {
  let [half, one, square, fourth, changes, undecided, never] = [0, 0, 0, 0, 0, 0, 0];
  const needed: number[] = [];
  for (let i = 0; i < histories; i++) {
    // Where adjusters come to rest has luck of its own: other advice meets the same arrows.
    const [luck, rest] = [chance(seed + 7919 * i), chance(~(seed + 7919 * i))];
    const history = obey(population, luck, rest.uniform);
    const { distances } = history;
    const worse = distances[10]! - distances[0]!;
    if (worse > 0.5) half++;
    if (worse > 1) one++;
    square += distances[10]! ** 2;
    fourth += distances[10]! ** 4;
    changes += history.changes;
    undecided += history.undecided;
    const first = distances.findIndex((distance) => distance <= 1);
    if (first < 0) never++;
    needed.push(first < 0 ? Infinity : first);
  }
  needed.sort((a, b) => a - b);
  const rms = Math.sqrt(square / histories);
  return {
    histories,
    worseByHalf: half / histories,
    worseByOne: one / histories,
    rmsAfterTen: rms,
    rmsError: Math.sqrt(Math.max(0, fourth / histories - rms ** 4) / histories) / (2 * rms),
    medianEnds: needed[Math.floor(histories / 2)]!,
    never: never / histories,
    changes: changes / histories,
    undecidedChanges: changes > 0 ? undecided / changes : 0,
  };
}

interface Response {
  readonly base: readonly [number, number];
  readonly perClick: readonly [number, number];
  readonly perMm: readonly [number, number];
}

function obey(
  population: PolicyPopulation,
  luck: Chance,
  rest: () => number,
): { distances: number[]; changes: number; undecided: number } {
  const hand = luck.uniform() < 0.7 ? 'right' : 'left';
  const distanceM = [18, 30, 50][Math.floor(3 * luck.uniform())]!;
  const [least, most] = population.sigmaMrad;
  const sigma = least * (most / least) ** luck.uniform();
  const bareRatio = 1.2 * Math.exp(0.2 * luck.normal());
  let nominal: { clicks: number; mm: number };
  let response: Response;
  // A bow that its two adjusters cannot bring there is no matter of when to touch them.
  do {
    nominal = { clicks: 30 + Math.floor(40 * luck.uniform()), mm: 4 + Math.floor(13 * luck.uniform()) / 2 }; // prettier-ignore
    response = responseOf(population, hand, luck);
  } while (!isWithinReach(response, nominal));
  const bow: Bow = { id: 'bow', archerId: 'a', name: 'Bow', hand, adjusters: ADJUSTERS, notes: '' };
  const log = { setUps: [] as SetUp[], sessions: [] as Session[], ends: [] as End[] };
  // Where the adjusters truly rest, from where they started: up to half a click beside the reading.
  let [clicks, mm, truly] = [nominal.clicks, nominal.mm, { clicks: 0, mm: 0 }];
  const offset = (axis: 0 | 1) =>
    response.base[axis] + response.perClick[axis] * truly.clicks + response.perMm[axis] * truly.mm;
  const away = () => Math.hypot(offset(0), offset(1));
  const distances = [away()];
  let [changes, undecided] = [0, 0];
  let day = { level: [0, 0] as readonly number[], sigma };
  for (let e = 0; e < population.ends; e++) {
    const shotAt = new Date(Date.UTC(2031, 2, 1 + 7 * Math.floor(e / SESSION_ENDS), 10, e)).toISOString(); // prettier-ignore
    if (e % SESSION_ENDS === 0) {
      day = {
        level: [population.sessionMrad * luck.normal(), population.sessionMrad * luck.normal()],
        sigma: sigma * Math.exp(population.dayLogSd * luck.normal()),
      };
      log.sessions.push(sessionOf(`s${e}`, shotAt, distanceM));
    }
    log.setUps.push(setUpOf(`u${e}`, shotAt, { clicks, nockMm: mm }, [0, 0]));
    const aim = [0.7 * luck.normal(), 0.7 * luck.normal()];
    const arrow = (kind: 'fletched' | 'bare') => {
      const sd =
        day.sigma *
        (kind === 'bare' ? bareRatio : 1) *
        (luck.uniform() < population.wildChance ? 4 : 1);
      const at = (axis: 0 | 1) =>
        distanceM *
        (aim[axis]! + (kind === 'bare' ? offset(axis) + day.level[axis]! : 0) + sd * luck.normal());
      return { kind, mm: [at(0), at(1)] as const };
    };
    const arrows = [
      ...Array.from({ length: FLETCHED }, () => arrow('fletched')),
      ...Array.from({ length: BARE }, () => arrow('bare')),
    ];
    log.ends.push(endOf(`e${e}`, log.sessions.at(-1)!.id, shotAt, arrows));
    const reading = readLog(bow, log, { setUpId: `u${e}`, distanceM });
    const tuning = readTuning(groupsOf(arrows, { distanceM }), { hand, distanceM, ...(reading ? { log: reading } : {}) })!; // prettier-ignore
    const step = firstChange(tuning, reading?.proposals ?? []);
    if (step) {
      const before = [clicks, mm];
      if (step.adjuster === 'plunger') clicks = amount(0, clicks + step.change);
      else mm = amount(1, mm + step.change);
      truly = {
        clicks: step.adjuster === 'plunger' ? clicks - nominal.clicks + rest() - 0.5 : truly.clicks,
        mm: step.adjuster === 'plunger' ? truly.mm : mm - nominal.mm + 0.2 * (rest() - 0.5),
      };
      if (e < 10 && (before[0] !== clicks || before[1] !== mm)) {
        changes++;
        const axis = step.adjuster === 'plunger' ? tuning.horizontal : tuning.vertical;
        if (axis.certainty === 'undecided') undecided++;
      }
    }
    distances.push(away());
  }
  return { distances, changes, undecided };
}

function amount(adjuster: 0 | 1, wanted: number): number {
  const setting = settingAt(ADJUSTERS[adjuster]!, wanted);
  if (setting.type === 'dial') return 10 * setting.line + setting.mark;
  return setting.type === 'number' ? setting.value : wanted;
}

/** The first change on the list: as the log sizes it, or by the words of the rule of thumb. */
function firstChange(
  tuning: Tuning,
  proposals: NonNullable<ReturnType<typeof readLog>>['proposals'],
): { adjuster: 'plunger' | 'nock'; change: number } | null {
  const first = tuning.advice.find((advice) => advice.kind === 'adjust');
  if (!first) return null;
  const proposal = proposals.find((one) => one.name === first.adjuster);
  if (proposal) {
    return {
      adjuster: proposal.adjusterId === 'plunger' ? 'plunger' : 'nock',
      change: proposal.change,
    };
  }
  if (/softer|too stiff/.test(first.action)) return { adjuster: 'plunger', change: -2 };
  if (/stiffer|too weak/.test(first.action)) return { adjuster: 'plunger', change: 2 };
  return { adjuster: 'nock', change: /raise/i.test(first.action) ? 1 : -1 };
}

/** Whether the change of both adjusters that brings the offset to zero is within their ranges. */
function isWithinReach(
  { base, perClick, perMm }: Response,
  nominal: { readonly clicks: number; readonly mm: number },
): boolean {
  const determinant = perClick[0] * perMm[1] - perClick[1] * perMm[0];
  const clicks = nominal.clicks - (base[0] * perMm[1] - base[1] * perMm[0]) / determinant;
  const mm = nominal.mm - (perClick[0] * base[1] - perClick[1] * base[0]) / determinant;
  return clicks >= 0 && clicks <= 100 && mm >= 0 && mm <= 20;
}

/** Gains of 40 % about the usual, each with 10 to 20 % of it on the other axis. */
function responseOf(population: PolicyPopulation, hand: 'right' | 'left', luck: Chance): Response {
  const gain = () => Math.exp(0.4 * luck.normal());
  const cross = () => (luck.uniform() < 0.5 ? -1 : 1) * (0.1 + 0.1 * luck.uniform());
  // Certain wrong ways: one of the two, or both.
  const turned =
    population.wrongWay === 1
      ? [[-1, 1], [1, -1], [-1, -1]][Math.floor(3 * luck.uniform())]!
      : [0, 1].map(() => (luck.uniform() < population.wrongWay ? -1 : 1)); // prettier-ignore
  const click = -(hand === 'right' ? 1 : -1) * 0.35 * gain() * turned[0]!;
  const mm = -1.5 * gain() * turned[1]!;
  const radius = Math.sqrt(
    population.from ** 2 + luck.uniform() * (population.to ** 2 - population.from ** 2),
  );
  const angle = 2 * Math.PI * luck.uniform();
  return {
    base: [radius * Math.cos(angle), radius * Math.sin(angle)],
    perClick: [click, click * cross()],
    perMm: [mm * cross(), mm],
  };
}
