import type { ArcherRecord } from '../../src/groups/archer-record.ts';
import { groupsOf } from '../../src/groups/groups-of.ts';
import { DEAD_ZONE_MRAD } from '../../src/tuning/advice/axis-verdict.ts';
import { readLog } from '../../src/tuning/read-log.ts';
import { readTuning } from '../../src/tuning/read-tuning.ts';
import type { End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import {
  chance,
  offsetOf,
  shootEnd,
  virtualArcher,
  virtualSession,
  OUT_OF_TUNE,
  type Chance,
  type Population,
  type Settings,
  type VirtualArcher,
} from '../simulation/virtual-archer.ts';
import { ADJUSTERS, endOf, sessionOf, setUpOf } from './bench-log.ts';
import { recordOf } from './record-of.ts';

const FLETCHED = 3;
const BARE = 2;
const ENDS = 16;
const ENDS_A_SESSION = 5;
const WITHIN_MRAD = 1;

export interface TuningBench {
  readonly histories: number;
  readonly ends: number;
  /** Share of 90 % regions of single ends that hold that session's true offset. */
  readonly coverage: { readonly withoutRecord: number; readonly withRecord: number };
  /** Verdicts called sure, by what they were said from. */
  readonly sure: {
    /** The first end of a history, by itself. */
    readonly firstEnd: SureCalls;
    /** Each end by itself, as if there were no log; most of them of a bow that is nearly in tune. */
    readonly oneEnd: SureCalls;
    readonly oneEndWithRecord: SureCalls;
    /** As the product says it, with the log. */
    readonly log: SureCalls;
  };
  /** Ends shot before the bow is within 1 mrad of what is wanted. */
  readonly endsNeeded: {
    readonly endwise: Needed;
    readonly ruleOfThumb: Needed;
    readonly ratio: number;
  };
  /** Histories further off after ten ends than at the start, and those of them beyond 1 mrad. */
  readonly wandering: { readonly endwise: Wandering; readonly ruleOfThumb: Wandering };
  /** Root mean square distance from what is wanted after the last end, mrad. */
  readonly leftMrad: { readonly endwise: number; readonly ruleOfThumb: number };
}

/**
 * Counted per axis. The truth is the bow's offset on that axis from what is wanted: for one end
 * with that session's own level in it, for the log without.
 */
export interface SureCalls {
  readonly axes: number;
  /** A direction was called sure. */
  readonly directions: number;
  /** Of these, the truth lies on the other side, by however little. */
  readonly wrongSide: number;
  /** Of these, the truth lies within the dead zone, on either side: the call is idle. */
  readonly idle: number;
  /** 'As wanted' was called sure. */
  readonly level: number;
  /** Of these, the truth lies beyond the dead zone. */
  readonly wrongLevel: number;
}

interface Wandering {
  readonly worse: number;
  readonly worseAndOut: number;
}

interface Needed {
  readonly median: number;
  readonly mean: number;
  /** Share that does not get there within the history. */
  readonly never: number;
}

/** Virtual tuning histories, each by the product's advice and by a fixed rule of thumb. */
export function tuningBench({
  histories,
  seed,
  population = OUT_OF_TUNE,
}: {
  readonly histories: number;
  readonly seed: number;
  readonly population?: Population;
}): TuningBench {
  const count = { regions: 0, bareIn: 0, recordRegions: 0, recordIn: 0 };
  const sure = {
    firstEnd: noCalls(),
    oneEnd: noCalls(),
    oneEndWithRecord: noCalls(),
    log: noCalls(),
  };
  const endwise = { needed: [] as number[], worse: 0, worseAndOut: 0, left: 0 };
  const thumb = { needed: [] as number[], worse: 0, worseAndOut: 0, left: 0 };
  for (let i = 0; i < histories; i++) {
    const archer = virtualArcher(chance(seed + 7919 * i), population);
    const record =
      i % 2 === 0
        ? recordOf(archer, chance(seed + 7919 * i + 1), { fletched: FLETCHED, bare: BARE })
        : undefined;
    const mine = byEndwise(archer, record, chance(seed + 7919 * i + 2));
    for (const [e, end] of mine.readings.entries()) {
      count.regions++;
      if (end.inRegion) count.bareIn++;
      if (end.inRecordRegion !== null) count.recordRegions++;
      if (end.inRecordRegion) count.recordIn++;
      if (e === 0) add(sure.firstEnd, end.oneEnd);
      add(record ? sure.oneEndWithRecord : sure.oneEnd, end.oneEnd);
      add(sure.log, end.log);
    }
    score(endwise, mine.distances);
    score(thumb, byThumb(archer, chance(seed + 7919 * i + 2)));
  }
  const [own, other] = [needed(endwise.needed), needed(thumb.needed)];
  const wandering = ({ worse, worseAndOut }: Wandering): Wandering => ({
    worse: worse / histories,
    worseAndOut: worseAndOut / histories,
  });
  return {
    histories,
    ends: count.regions,
    coverage: {
      withoutRecord: count.bareIn / count.regions,
      withRecord: count.recordIn / count.recordRegions,
    },
    sure,
    endsNeeded: { endwise: own, ruleOfThumb: other, ratio: own.median / other.median },
    wandering: { endwise: wandering(endwise), ruleOfThumb: wandering(thumb) },
    leftMrad: {
      endwise: Math.sqrt(endwise.left / histories),
      ruleOfThumb: Math.sqrt(thumb.left / histories),
    },
  };
}

type Counts = { -readonly [Key in keyof SureCalls]: SureCalls[Key] };

function noCalls(): Counts {
  return { axes: 0, directions: 0, wrongSide: 0, idle: 0, level: 0, wrongLevel: 0 };
}

function add(into: Counts, calls: SureCalls): void {
  for (const key of Object.keys(into) as (keyof Counts)[]) into[key] += calls[key];
}

function score(
  into: { needed: number[]; worse: number; worseAndOut: number; left: number },
  distances: readonly number[],
): void {
  const first = distances.findIndex((distance) => distance <= WITHIN_MRAD);
  into.needed.push(first < 0 ? ENDS + 1 : first);
  const isWorse = distances[10]! > distances[0]!;
  if (isWorse) into.worse++;
  if (isWorse && distances[10]! > WITHIN_MRAD) into.worseAndOut++;
  into.left += distances[ENDS]! ** 2;
}

function needed(ends: readonly number[]): Needed {
  const sorted = [...ends].sort((a, b) => a - b);
  // Interpolated within tied counts, so that the median of whole numbers can move in parts.
  const half = sorted.length / 2;
  const value = sorted[Math.floor(half)]!;
  const below = sorted.filter((x) => x < value).length;
  const equal = sorted.filter((x) => x === value).length;
  return {
    median: value - 0.5 + (half - below) / equal,
    mean: sorted.reduce((sum, x) => sum + x, 0) / sorted.length,
    never: sorted.filter((x) => x > ENDS).length / sorted.length,
  };
}

interface EndReading {
  readonly inRegion: boolean;
  readonly inRecordRegion: boolean | null;
  readonly oneEnd: SureCalls;
  readonly log: SureCalls;
}

function byEndwise(
  archer: VirtualArcher,
  record: ArcherRecord | undefined,
  luck: Chance,
): { distances: number[]; readings: EndReading[] } {
  const { distanceM, preferredMrad } = archer;
  const hand = archer.bow.hand;
  const bow: Bow = { id: 'bow', archerId: 'a', name: 'Bow', hand, adjusters: ADJUSTERS, notes: '' };
  const log = { setUps: [] as SetUp[], sessions: [] as Session[], ends: [] as End[] };
  let settings = archer.start;
  let session = virtualSession(archer, luck);
  const distances = [away(archer, settings)];
  const readings: EndReading[] = [];
  for (let e = 0; e < ENDS; e++) {
    const time = new Date(Date.UTC(2031, 2, 1 + 7 * Math.floor(e / ENDS_A_SESSION), 10, e));
    const shotAt = time.toISOString();
    if (e % ENDS_A_SESSION === 0) {
      if (e > 0) session = virtualSession(archer, luck);
      log.sessions.push(sessionOf(`s${e}`, shotAt, distanceM));
    }
    log.setUps.push(setUpOf(`u${e}`, shotAt, settings, preferredMrad));
    const arrows = shootEnd(archer, session, { settings, fletched: FLETCHED, bare: BARE }, luck);
    log.ends.push(endOf(`e${e}`, log.sessions.at(-1)!.id, shotAt, arrows));

    const truth = offsetOf(archer.bow, settings);
    const today: [number, number] = [
      truth[0] + session.driftMrad[0],
      truth[1] + session.driftMrad[1],
    ];
    const plain = groupsOf(arrows, { distanceM });
    const groups = record ? groupsOf(arrows, { distanceM, record }) : plain;
    const options = { hand, distanceM, preferredMrad, record };
    const one = readTuning(groups, options)!;
    const reading = readLog(bow, log, { setUpId: `u${e}`, record, distanceM });
    const tuning = readTuning(groups, { ...options, ...(reading ? { log: reading } : {}) })!;
    readings.push({
      inRegion: inRegion(plain, today),
      inRecordRegion: record ? inRegion(groups, today) : null,
      oneEnd: sureCalls(one, today, preferredMrad),
      log: sureCalls(tuning, truth, preferredMrad),
    });

    // The archer does the first change on the list, when it is one that the log proposes.
    const first = tuning.advice.find((advice) => advice.kind === 'adjust');
    const proposal = first && reading?.proposals.find((one) => one.name === first.adjuster);
    if (proposal) settings = changed(settings, proposal.adjusterId, proposal.change);
    distances.push(away(archer, settings));
  }
  return { distances, readings };
}

function changed(settings: Settings, adjusterId: string, change: number): Settings {
  return adjusterId === 'plunger'
    ? { ...settings, clicks: settings.clicks + change }
    : { ...settings, nockMm: settings.nockMm + change };
}

function away(archer: VirtualArcher, settings: Settings): number {
  const offset = offsetOf(archer.bow, settings);
  return Math.hypot(offset[0] - archer.preferredMrad[0], offset[1] - archer.preferredMrad[1]);
}

function inRegion(groups: ReturnType<typeof groupsOf>, truth: readonly [number, number]): boolean {
  const { centre, semiAxes } = groups.offset!.region90Mrad!;
  return Math.hypot(centre[0] - truth[0], centre[1] - truth[1]) <= semiAxes[0];
}

function sureCalls(
  tuning: NonNullable<ReturnType<typeof readTuning>>,
  truth: readonly [number, number],
  preferred: readonly [number, number],
): SureCalls {
  const calls = noCalls();
  for (const [verdict, plus, axis] of [
    [tuning.vertical, 'high', 1],
    [tuning.horizontal, 'right', 0],
  ] as const) {
    calls.axes++;
    if (verdict.certainty !== 'sure') continue;
    const off = truth[axis] - preferred[axis];
    const isLevel = Math.abs(off) <= DEAD_ZONE_MRAD;
    if (verdict.direction === 'level') {
      calls.level++;
      if (!isLevel) calls.wrongLevel++;
      continue;
    }
    calls.directions++;
    if (verdict.direction === plus ? off < 0 : off > 0) calls.wrongSide++;
    if (isLevel) calls.idle++;
  }
  return calls;
}

/**
 * A fixed rule of thumb: after each end one change, vertical first, two clicks of the plunger or a
 * millimetre of nocking point against what the end shows, when it shows more than 1 mrad.
 */
function byThumb(archer: VirtualArcher, luck: Chance): number[] {
  let settings = archer.start;
  let session = virtualSession(archer, luck);
  const stiffer = archer.bow.hand === 'right' ? 1 : -1;
  const distances = [away(archer, settings)];
  for (let e = 0; e < ENDS; e++) {
    if (e > 0 && e % ENDS_A_SESSION === 0) session = virtualSession(archer, luck);
    const arrows = shootEnd(archer, session, { settings, fletched: FLETCHED, bare: BARE }, luck);
    const mean = (kind: string, axis: 0 | 1) => {
      const of = arrows.filter((arrow) => arrow.kind === kind);
      return of.reduce((sum, arrow) => sum + arrow.mm[axis], 0) / of.length / archer.distanceM;
    };
    const seen = ([0, 1] as const).map(
      (axis) => mean('bare', axis) - mean('fletched', axis) - archer.preferredMrad[axis],
    );
    const [right, up] = [seen[0]!, seen[1]!];
    if (Math.abs(up) > WITHIN_MRAD) settings = changed(settings, 'nock', Math.sign(up));
    else if (Math.abs(right) > WITHIN_MRAD) {
      settings = changed(settings, 'plunger', 2 * stiffer * Math.sign(right));
    }
    distances.push(away(archer, settings));
  }
  return distances;
}
