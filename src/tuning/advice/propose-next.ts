import { ENGLISH, type Words } from '../../words/words.ts';
import { centralInterval, massAboveValue, type AxisLaw } from '../response/axis-law.ts';
import { DEAD_ZONE_MRAD } from './axis-verdict.ts';
import { plateRadiusMrad, type Plate } from './plate.ts';
import type { LeftToThumb, Proposal } from './proposal.ts';
import {
  lawAfter,
  offsetByChange,
  presentOffset,
  slopeLaw,
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
 * is the expected squared distance of the next end; hardly, because a step that is too long or goes
 * the wrong way teaches the slope and is taken back (chosen by simulation).
 */
const DOUBT = 0.05;
/**
 * A change has to bring the loss down by this, mrad2: less than a third of a milliradian nearer is
 * what one click does.
 */
const WORTH_MRAD2 = 0.1;
/** Nothing is changed unless what is off is this many standard deviations: a side of five in eight. */
const LEANING_FROM = 0.3;
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
  /** @default ENGLISH */
  readonly words?: Words | undefined;
}

/**
 * The next step, from the bow's own log: the change of one adjuster after which the bow is expected to
 * be nearest to the preferred offset on both axes, uncertainty counted in, so that an uncertain slope
 * makes a careful step; within the adjuster's range and not much further than the record supports.
 * None where every change is expected to do too little good, or harm.
 */
export function proposeNext(bow: Bow, model: ResponseModel, options: NextOptions): Proposal[] {
  const steps = (['vertical', 'horizontal'] as const)
    .filter((axis) => isLeaning(model.axes[axis], wantedOn(axis, options)))
    .map((axis) => stepsOn(bow, model, axis, options).find(({ gain }) => gain >= WORTH_MRAD2))
    .filter((step) => step !== undefined)
    .sort((a, b) => b.gain - a.gain);
  return steps.slice(0, 1).map((step) => describe(model, step, options));
}

function isLeaning(response: AxisResponse, wanted: number): boolean {
  const { mean, sd } = presentOffset(response);
  return Math.abs(mean - wanted) >= LEANING_FROM * sd;
}

/** What of an axis the adjusters that the set-up gives cannot change. */
export function leftToThumb(
  bow: Bow,
  model: ResponseModel,
  axis: Axis,
  options: NextOptions,
): LeftToThumb {
  const steps = stepsOn(bow, model, axis, options);
  if (steps.length === 0) return 'all';
  if (steps.some(({ gain }) => gain >= WORTH_MRAD2)) return 'nothing';
  return steps.some(({ gainWithoutEnds }) => gainWithoutEnds >= WORTH_MRAD2) ? 'rest' : 'nothing';
}

/** The best step of each adjuster for an axis, in the order they are reached for. */
function stepsOn(bow: Bow, model: ResponseModel, axis: Axis, options: NextOptions): Step[] {
  const { present } = options;
  const response = model.axes[axis];
  const beyond = Math.abs(presentOffset(response).mean) > plateRadiusMrad(options.plate);
  return candidatesOn(bow, response, axis, beyond ? 'beyond' : 'within').flatMap((adjuster) => {
    const amount = present[adjuster.id];
    if (amount === undefined) return [];
    const shot = model.ends.map((end) => end.amounts[adjuster.id] ?? amount);
    const span = Math.max(amount, ...shot) - Math.min(amount, ...shot);
    const prior = slopePrior(adjuster, axis, bow.hand);
    const first = FIRST_STEP_MRAD / (Math.abs(prior.mean) + prior.sd);
    const atMost = Math.max(first, BEYOND_RECORD * span);
    const best = bestChange(adjuster, amount, { model, options, atMost });
    return [{ ...best, axis, adjuster, amount, wanted: wantedOn(axis, options), usual: prior.mean, isProbe: span === 0 }]; // prettier-ignore
  });
}

/** Adjusters for an axis, in the order they are reached for. */
function candidatesOn(
  bow: Bow,
  response: AxisResponse,
  axis: Axis,
  place: 'within' | 'beyond',
): Adjuster[] {
  const parts = toolsFor(axis, place);
  return parts
    .flatMap((part) => bow.adjusters.filter((adjuster) => adjuster.part === part))
    .concat(
      bow.adjusters.filter(({ id, part }) => !parts.includes(part) && isProven(response, id)),
    );
}

function wantedOn(axis: Axis, { preferredMrad = [0, 0] }: NextOptions): number {
  return preferredMrad[axis === 'horizontal' ? 0 : 1];
}

/** An adjuster outside the usual tools that this bow's ends show to move the bare shafts. */
function isProven(response: AxisResponse, adjusterId: string): boolean {
  if (!response.moved.includes(adjusterId)) return false;
  const { mean, sd } = slopeOf(response, adjusterId)!;
  return Math.abs(mean) > PROVEN_FROM * sd;
}

/** In standard deviations of a slope: 39 of 40. */
const PROVEN_FROM = 1.96;

/** Probability of being within the dead zone of what is wanted. */
function landing(law: AxisLaw, wanted: number, deadZone: number): number {
  return massAboveValue(law, wanted - deadZone) - massAboveValue(law, wanted + deadZone);
}

interface BestChange {
  readonly change: number;
  /** How much it brings the loss down, over both axes, mrad2. */
  readonly gain: number;
  /** The same of the best change if the adjuster's range had no ends. */
  readonly gainWithoutEnds: number;
}

function bestChange(
  adjuster: Adjuster,
  amount: number,
  {
    model,
    options,
    atMost,
  }: {
    readonly model: ResponseModel;
    readonly options: NextOptions;
    readonly atMost: number;
  },
): BestChange {
  const step = stepOf(adjuster);
  const steps = Math.max(1, Math.floor(atMost / step));
  const axes = (['horizontal', 'vertical'] as const).map((axis) => ({
    wanted: wantedOn(axis, options),
    after: offsetByChange(model.axes[axis], adjuster.id),
  }));
  const lossAt = (change: number) =>
    axes.reduce((sum, { wanted, after }) => {
      const { mean, variance } = after(change);
      return sum + (mean - wanted) ** 2 + DOUBT * variance;
    }, 0);
  const now = lossAt(0);
  let [best, gainWithoutEnds] = [{ change: 0, gain: 0 }, 0];
  for (let k = -steps; k <= steps; k++) {
    const change = settingAmount(adjuster, settingAt(adjuster, amount + k * step))! - amount;
    const gain = now - lossAt(change);
    if (gain > best.gain) best = { change: Number(change.toFixed(6)), gain };
    gainWithoutEnds = Math.max(gainWithoutEnds, now - lossAt(k * step));
  }
  return { ...best, gainWithoutEnds };
}

interface Step extends BestChange {
  readonly axis: Axis;
  readonly adjuster: Adjuster;
  /** Of the adjuster now. */
  readonly amount: number;
  readonly wanted: number;
  /** Slope that is expected of its part, mrad per unit of amount. */
  readonly usual: number;
  readonly isProbe: boolean;
}

function describe(
  model: ResponseModel,
  step: Step,
  { deadZoneMrad = DEAD_ZONE_MRAD, distanceM, words = ENGLISH }: NextOptions,
): Proposal {
  const { axis, adjuster, amount, change, wanted } = step;
  const response = model.axes[axis];
  const reach = reachOf(adjuster, amount);
  const interval = neededChange(response, adjuster.id, { wanted, reach });
  const ends = model.ends.filter((_, i) => response.trust[i]! > 0.25);
  const size = sizeWords(adjuster, Math.abs(change), words);
  const range = rangeWords(adjuster, change, { interval, reach, words });
  return {
    axis,
    kind: step.isProbe ? 'probe' : 'step',
    adjusterId: adjuster.id,
    part: adjuster.part,
    name: adjuster.name,
    unit: adjuster.scale.type === 'number' ? adjuster.scale.unit : '',
    change,
    interval,
    pLands: landing(lawAfter(response, adjuster.id, change), wanted, deadZoneMrad),
    words: `${words.say('about {change}', { change: `${size} ${senseOf(adjuster, change, words)}` })}${range}`,
    reason: reasonFor(model, step, distanceM, words),
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
  { wanted, reach }: { readonly wanted: number; readonly reach: readonly [number, number] },
): [number, number] {
  const sense = Math.sign(slopeOf(response, adjusterId)!.mean);
  // The needed change is below x exactly when a change of x already goes past what is wanted.
  const below = (x: number) => {
    const past = massAboveValue(lawAfter(response, adjusterId, x), wanted);
    return sense > 0 ? past : 1 - past;
  };
  const at = (probability: number) => {
    let [low, high] = reach;
    if (below(low) >= probability) return low;
    if (below(high) <= probability) return high;
    for (let i = 0; i < 24; i++) {
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
    words,
  }: {
    readonly interval: readonly number[];
    readonly reach: readonly [number, number];
    readonly words: Words;
  },
): string {
  const step = stepOf(adjuster);
  const along = interval.map((x) => Math.round((x * Math.sign(change)) / step) * step);
  const [least, most] = [Math.max(0, Math.min(...along)), Math.max(...along)];
  const end = Math.max(...reach.map((x) => x * Math.sign(change)));
  const unit = adjuster.scale.type === 'number' ? adjuster.scale.unit : '';
  const [low, high] = [least, most].map((one) => words.inUnit(one, unit).figure);
  const inside = (() => {
    if (most >= end && least < most)
      return least <= 0 ? null : words.say('{low} or more', { low: low! });
    if (most <= least) return null;
    return least <= 0
      ? words.say('up to {high}', { high: high! })
      : words.say('{low} to {high}', { low: low!, high: high! });
  })();
  return inside === null ? '' : ` (${inside})`;
}

const ENDS_NAMED = 6;

/** From this probability on a log says that an adjuster works the other way round. */
const WRONG_WAY_SAID_FROM = 0.95;

function reasonFor(
  model: ResponseModel,
  { axis, adjuster, isProbe, usual }: Step,
  distanceM: number | undefined,
  words: Words,
): string {
  const { say, metres } = words;
  const response = model.axes[axis];
  const slope = slopeOf(response, adjuster.id)!;
  const step = stepOf(adjuster);
  const sense = Math.sign(slope.mean);
  const towards = say(
    axis === 'vertical' ? (sense > 0 ? 'up' : 'down') : sense > 0 ? 'to the right' : 'to the left',
  );
  const one = `${sizeWords(adjuster, step, words)} ${senseOf(adjuster, 1, words)}`;
  const moves = (mrad: number) =>
    distanceM
      ? words.inLength(Math.abs(mrad) * step * distanceM)
      : words.inSlope(Math.abs(mrad) * step);
  const unit = distanceM
    ? say('{unit} at {distance}', { unit: words.units.length, distance: metres(distanceM) })
    : words.slopeUnit;
  const moved = { one, size: moves(slope.mean), unit, towards };
  if (isProbe) {
    return say(
      'No end of this bow shows yet what this adjuster does; usually {one} moves the bare shafts about {size} {unit} {towards}. This step is kept small enough to learn it.',
      moved,
    );
  }
  const [low, high] = centralInterval(slopeLaw(response, adjuster.id)!, 0.8)
    .map((x) => Math.max(0, sense * x))
    .sort((x, y) => x - y) as [number, number];
  const used = model.ends.filter((_, i) => response.trust[i]! > 0.25);
  const wild = model.ends.length - used.length;
  const named = used.slice(-ENDS_NAMED).map((end) => end.label);
  const earlier = used.length - named.length;
  const rests =
    earlier > 0
      ? say('{ends} and {earlier} before', { ends: named.join('; '), earlier })
      : named.join('; ');
  const up = massAboveValue(slopeLaw(response, adjuster.id)!, 0);
  const isTurned = usual !== 0 && (usual < 0 ? up : 1 - up) >= WRONG_WAY_SAID_FROM;
  return [
    say(
      "In this bow's log {one} moves the bare shafts {size} {unit} {towards} ({low} to {high}), from {ends}.",
      { ...moved, low: moves(low), high: moves(high), ends: rests },
    ),
    ...(isTurned ? [say('On this bow it works the other way round than usual.')] : []),
    ...(wild > 0 ? [say('{wild} that did not fit the others counted little.', { wild })] : []),
  ].join(' ');
}
