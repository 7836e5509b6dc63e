import student from '@stdlib/stats-base-dists-t';
import { DEAD_ZONE_MRAD, WORTH_OF_ZONE } from './axis-verdict.ts';
import type { StudentT } from '../response/normal-inverse-gamma.ts';
import { plateRadiusMrad, type Plate } from './plate.ts';
import type { Proposal } from './proposal.ts';
import {
  offsetAfter,
  presentOffset,
  slopeOf,
  type AxisResponse,
  type ResponseModel,
} from '../response/response-model.ts';
import { ADJUSTER_PARTS, partOf, type AdjusterPart, type Axis } from '../bow/parts.ts';
import type { Adjuster, Bow } from '../bow/set-up.ts';
import { settingAmount, settingAt, stepOf } from '../bow/setting-amount.ts';
import { senseOf, sizeWords } from '../bow/setting-words.ts';
import { slopePrior } from '../response/slope-prior.ts';

/** Parts for an axis in the order they are reached for: within the plate, or beyond it. */
function toolsFor(axis: Axis, place: 'within' | 'beyond'): AdjusterPart[] {
  const rank = (part: AdjusterPart): number => partOf(part).tool![place];
  return ADJUSTER_PARTS.filter((part) => partOf(part).tool?.axis === axis).sort(
    (a, b) => rank(a) - rank(b),
  );
}

/** What a first step may move at most, were the adjuster stronger than expected, mrad. */
const FIRST_STEP_MRAD = 5;
/**
 * How much the uncertainty of where a step lands counts beside where it lands on average. At 1 it
 * is the expected squared distance; less, because a step that is too long still teaches the slope.
 */
const DOUBT = 0.4;
/** A later step may go this many times as far as the settings that were shot. */
const BEYOND_RECORD = 1.5;

export interface NextOptions {
  readonly present: Readonly<Record<string, number>>;
  readonly preferredMrad?: readonly [number, number] | undefined;
  /** @default DEAD_ZONE_MRAD */
  readonly deadZoneMrad?: number | undefined;
  readonly plate?: Plate | undefined;
  /** For the words of the reason only. */
  readonly distanceM?: number | undefined;
}

/**
 * The next step for each axis that is off, from the bow's own log: the change of one adjuster that
 * brings the offset nearest to the preferred one with its uncertainty counted in, so that an uncertain slope
 * makes a careful step, within the adjuster's range and not much further than the record supports.
 */
export function proposeNext(bow: Bow, model: ResponseModel, options: NextOptions): Proposal[] {
  return (['vertical', 'horizontal'] as const)
    .map((axis) => proposeOn(bow, model, axis, options))
    .filter((proposal) => proposal !== null);
}

function proposeOn(
  bow: Bow,
  model: ResponseModel,
  axis: Axis,
  options: NextOptions,
): Proposal | null {
  const { present, preferredMrad = [0, 0], deadZoneMrad = DEAD_ZONE_MRAD } = options;
  const response = model.axes[axis];
  const wanted = preferredMrad[axis === 'horizontal' ? 0 : 1];
  const now = presentOffset(response);
  if (Math.abs(now.mean - wanted) <= WORTH_OF_ZONE * deadZoneMrad) return null;
  const beyond = Math.abs(now.mean) > plateRadiusMrad(options.plate);
  const parts = toolsFor(axis, beyond ? 'beyond' : 'within');
  const candidates = parts
    .flatMap((part) => bow.adjusters.filter((adjuster) => adjuster.part === part))
    .concat(
      bow.adjusters.filter(({ id, part }) => !parts.includes(part) && isProven(response, id)),
    );
  for (const adjuster of candidates) {
    const amount = present[adjuster.id];
    if (amount === undefined) continue;
    const shot = model.ends.map((end) => end.amounts[adjuster.id] ?? amount);
    const span = Math.max(amount, ...shot) - Math.min(amount, ...shot);
    const prior = slopePrior(adjuster, axis, bow.hand);
    const first = FIRST_STEP_MRAD / (Math.abs(prior.mean) + prior.sd);
    const change = bestChange(adjuster, amount, {
      response,
      wanted,
      sense: senseIn(response, adjuster.id, prior.mean),
      atMost: Math.max(first, BEYOND_RECORD * span),
    });
    if (change === 0) continue;
    return describe(model, axis, adjuster, {
      amount,
      change,
      wanted,
      deadZoneMrad,
      isProbe: span === 0,
      distanceM: options.distanceM,
    });
  }
  return null;
}

/** An adjuster outside the usual tools that this bow's ends show to move the bare shafts. */
function isProven(response: AxisResponse, adjusterId: string): boolean {
  const slope = slopeOf(response, adjusterId);
  return slope !== null && Math.abs(slope.mean) > student.quantile(0.975, slope.df) * slope.scale;
}

/**
 * Which way the offset goes with an adjuster: as the mechanics say, until this bow's ends prove
 * otherwise, for a few scattered ends make a slope of either sign; 0 where the mechanics leave it open.
 */
function senseIn(response: AxisResponse, adjusterId: string, usualSlope: number): number {
  if (usualSlope === 0 || !isProven(response, adjusterId)) return Math.sign(usualSlope);
  return Math.sign(slopeOf(response, adjusterId)!.mean);
}

/** Probability of being within the dead zone of what is wanted. */
function landing({ mean, scale, df }: StudentT, wanted: number, deadZone: number): number {
  return (
    student.cdf((wanted + deadZone - mean) / scale, df) -
    student.cdf((wanted - deadZone - mean) / scale, df)
  );
}

function bestChange(
  adjuster: Adjuster,
  amount: number,
  {
    response,
    wanted,
    sense,
    atMost,
  }: {
    readonly response: AxisResponse;
    readonly wanted: number;
    readonly sense: number;
    readonly atMost: number;
  },
): number {
  const step = stepOf(adjuster);
  const steps = Math.max(1, Math.floor(atMost / step));
  let best = { change: 0, loss: lossAt(0) };
  const away = Math.sign(presentOffset(response).mean - wanted) * sense;
  for (let k = -steps; k <= steps; k++) {
    const setting = settingAt(adjuster, amount + k * step);
    const change = settingAmount(adjuster, setting)! - amount;
    if (away !== 0 && Math.sign(change) === away) continue;
    const loss = lossAt(change);
    if (loss < best.loss) best = { change, loss };
  }
  return Number(best.change.toFixed(6));

  function lossAt(change: number): number {
    const after = offsetAfter(response, adjuster.id, change);
    return (after.mean - wanted) ** 2 + DOUBT * after.scale ** 2;
  }
}

interface Step {
  /** Of the adjuster now. */
  readonly amount: number;
  readonly change: number;
  readonly wanted: number;
  readonly deadZoneMrad: number;
  readonly isProbe: boolean;
  readonly distanceM: number | undefined;
}

function describe(
  model: ResponseModel,
  axis: Axis,
  adjuster: Adjuster,
  { amount, change, wanted, deadZoneMrad, isProbe, distanceM }: Step,
): Proposal {
  const response = model.axes[axis];
  const slope = slopeOf(response, adjuster.id)!;
  const interval = neededChange(response, adjuster.id, {
    wanted,
    sense: Math.sign(slope.mean),
    reach: reachOf(adjuster, amount),
  });
  const ends = model.ends.filter((_, i) => response.trust[i]! > 0.25);
  const size = sizeWords(adjuster, Math.abs(change));
  const range = rangeWords(adjuster, change, { interval, reach: reachOf(adjuster, amount) });
  return {
    axis,
    kind: isProbe ? 'probe' : 'step',
    adjusterId: adjuster.id,
    part: adjuster.part,
    name: adjuster.name,
    unit: adjuster.scale.type === 'number' ? adjuster.scale.unit : '',
    change,
    interval,
    pLands: landing(offsetAfter(response, adjuster.id, change), wanted, deadZoneMrad),
    words: `about ${size} ${senseOf(adjuster, change)}${range}`,
    reason: reasonFor(model, axis, adjuster, { slope, isProbe, distanceM }),
    endIds: ends.map((end) => end.id),
  };
}

/** How far an adjuster can still be changed either way. */
function reachOf(adjuster: Adjuster, amount: number): [number, number] {
  const at = (far: number) => settingAmount(adjuster, settingAt(adjuster, far))! - amount;
  return [at(-FARTHEST), at(FARTHEST)];
}

/** Further than any adjuster goes, in any unit. */
const FARTHEST = 4096;

/**
 * 80 % interval of the change that would land on what is wanted, given the slope's likely sign, as far
 * as the adjuster reaches: a slope that may be none at all would ask for any amount.
 */
function neededChange(
  response: AxisResponse,
  adjusterId: string,
  {
    wanted,
    sense,
    reach,
  }: {
    readonly wanted: number;
    readonly sense: number;
    readonly reach: readonly [number, number];
  },
): [number, number] {
  // The needed change is below x exactly when a change of x already goes past what is wanted.
  const below = (x: number) => {
    const after = offsetAfter(response, adjusterId, x);
    return student.cdf((sense * (after.mean - wanted)) / after.scale, after.df);
  };
  const at = (probability: number) => {
    let [low, high] = reach;
    if (below(low) >= probability) return low;
    if (below(high) <= probability) return high;
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2;
      if (below(middle) < probability) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  return [at(0.1), at(0.9)];
}

function rangeWords(
  adjuster: Adjuster,
  change: number,
  {
    interval,
    reach,
  }: { readonly interval: readonly number[]; readonly reach: readonly [number, number] },
): string {
  const step = stepOf(adjuster);
  const along = interval.map((x) => Math.round((x * Math.sign(change)) / step) * step);
  const [low, high] = [Math.max(0, Math.min(...along)), Math.max(...along)];
  const end = Math.max(...reach.map((x) => x * Math.sign(change)));
  if (high >= end && low < high) return low <= 0 ? '' : ` (${say(low)} or more)`;
  if (high <= low) return '';
  return low <= 0 ? ` (up to ${say(high)})` : ` (${say(low)} to ${say(high)})`;
}

function say(value: number): string {
  return String(Number(value.toFixed(2)));
}

const ENDS_NAMED = 6;

function reasonFor(
  model: ResponseModel,
  axis: Axis,
  adjuster: Adjuster,
  {
    slope,
    isProbe,
    distanceM,
  }: {
    readonly slope: StudentT;
    readonly isProbe: boolean;
    readonly distanceM: number | undefined;
  },
): string {
  const step = stepOf(adjuster);
  const sense = Math.sign(slope.mean);
  const towards =
    axis === 'vertical' ? (sense > 0 ? 'up' : 'down') : sense > 0 ? 'to the right' : 'to the left';
  const one = `${sizeWords(adjuster, step)} ${senseOf(adjuster, 1)}`;
  const moves = (mrad: number) =>
    distanceM
      ? `${Math.round(Math.abs(mrad) * step * distanceM)}`
      : `${(Math.abs(mrad) * step).toFixed(1)}`;
  const unit = distanceM ? `mm at ${distanceM} m` : 'mm per metre of distance';
  if (isProbe) {
    return `No end of this bow shows yet what this adjuster does; usually ${one} moves the bare shafts about ${moves(slope.mean)} ${unit} ${towards}. This step is kept small enough to learn it.`;
  }
  const half = student.quantile(0.9, slope.df) * slope.scale;
  const [low, high] = [Math.max(0, Math.abs(slope.mean) - half), Math.abs(slope.mean) + half];
  const used = model.ends.filter((_, i) => model.axes[axis].trust[i]! > 0.25);
  const wild = model.ends.length - used.length;
  const named = used.slice(-ENDS_NAMED).map((end) => end.label);
  const earlier = used.length - named.length;
  const rests = `${named.join('; ')}${earlier > 0 ? ` and ${earlier} before` : ''}`;
  const apart = wild > 0 ? ` ${wild} that did not fit the others counted little.` : '';
  return `In this bow's log ${one} moves the bare shafts ${moves(slope.mean)} ${unit} ${towards} (${moves(low)} to ${moves(high)}), from ${rests}.${apart}`;
}
