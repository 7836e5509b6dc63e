import type { ArcherRecord } from '../groups/archer-record.ts';
import { massInDisc, type BivariateT } from '../groups/bivariate-t.ts';
import type { Groups, Offset } from '../groups/groups.ts';
import { DISTANCES_AT_FIRST } from '../face/usual-distances.ts';
import type { Hand } from '../request/request.ts';
import { ENGLISH, type Words } from '../words/words.ts';
import { advise, isWeak } from './advice/advise.ts';
import { centralInterval, meanOf, movedBy, type AxisLaw } from './response/axis-law.ts';
import { axisVerdict, DEAD_ZONE_MRAD, type AxisVerdict } from './advice/axis-verdict.ts';
import { leastSure } from './advice/least-sure.ts';
import { fletchedForm } from './advice/fletched-form.ts';
import { furtherArrows, type FurtherArrows } from './advice/further-arrows.ts';
import { plateRadiusMrad, type Plate } from './advice/plate.ts';
import type { LogOffset, LogReading } from './read-log.ts';
import { SPREAD_AT_FIRST } from './response/spread-at-first.ts';
import type { DoubtedEntry } from './response/doubted-entry.ts';
import { adjusterName } from './bow/adjuster-name.ts';
import { changeWords } from './bow/setting-words.ts';
import { withStateOfTune } from './response/state-of-tune.ts';
import type { Advice, Tuning } from './advice/tuning.ts';

/** One way in which the marks may be tagged, with what the end and the bow's log say then. */
export interface TaggedWay {
  /** Weights need not sum to 1. */
  readonly weight: number;
  readonly groups: Groups;
  /** What the log of this bow says, this end so tagged included. */
  readonly log?: LogOffset | null | undefined;
}

/** A distance from which an end may have been shot, with what it and the log say then. */
export interface Supposition {
  readonly distanceM: number;
  /** All ways in which the marks may be tagged; one where the tags are told. */
  readonly ways: readonly TaggedWay[];
}

export interface TuningOptions {
  /** Null while nobody said it: right is then not told weak from stiff, and nothing is advised sideways. */
  readonly hand: Hand | null;
  /** Without it there is no plate and no comparison with the record. */
  readonly distanceM?: number | undefined;
  /** Where this archer wants the bare shafts, mrad [right, up]. @default [0, 0] */
  readonly preferredMrad?: readonly [number, number] | undefined;
  readonly record?: ArcherRecord | undefined;
  /** @default PLATE, 270 mm at 30 m */
  readonly plate?: Plate | undefined;
  /** Offsets this close to the preferred one, each way, are as good as there. @default DEAD_ZONE_MRAD */
  readonly deadZoneMrad?: number | undefined;
  /** What the log of this bow says, this end included; it outweighs one end and the rule of thumb. */
  readonly log?: LogReading | undefined;
  /**
   * What may have been: the told distance alone, or each from which it may have been shot. The verdict
   * is what holds in all of them.
   * @default the groups as they are, at the told distance or at each of DISTANCES_AT_FIRST
   */
  readonly supposed?: readonly Supposition[] | undefined;
  /**
   * Probability of the likeliest tags, where tags were guessed: then the verdict is never 'sure', and
   * no change is advised.
   * @default the tags are told
   */
  readonly pOfTags?: number | undefined;
  /** What its sentences are said in. @default ENGLISH */
  readonly words?: Words | undefined;
}

/**
 * What the groups of one end say about the bow, how surely, and what to do about it. Null unless both
 * kinds of arrow were shot: then it says nothing of the bow.
 */
export function readTuning(groups: Groups, options: TuningOptions): Tuning | null {
  const { offset } = groups;
  if (!offset) return null;
  const { distanceM, preferredMrad: wanted = [0, 0], hand, record, pOfTags } = options;
  const { words = ENGLISH } = options;
  const form = fletchedForm(groups.fletched, options, words);
  const deadZone = options.deadZoneMrad ?? DEAD_ZONE_MRAD;
  const isGuessed = pOfTags !== undefined;
  const supposed = options.supposed ?? supposedOf(groups, options);
  const laws = supposed.map(({ distanceM: unitMm, ways }) => {
    const about = { wanted, record, unitMm };
    return [lawOf(0, ways, about), lawOf(1, ways, about)] as const;
  });

  const verdictOf = (axis: 0 | 1): AxisVerdict => {
    const verdicts = laws.flatMap((both) => {
      const law = both[axis];
      return law ? [axisVerdict(law, { wanted: wanted[axis], deadZone })] : [];
    });
    if (verdicts.length === 0) return UNKNOWN;
    const verdict = leastSure(verdicts);
    return isGuessed ? onGuessedTags(verdict) : verdict;
  };
  const [horizontal, vertical] = [verdictOf(0), verdictOf(1)];
  const plate = distanceM
    ? plateOf(supposed[0]!.ways, plateRadiusMrad(options.plate) * distanceM)
    : null;
  const middle = Math.floor(supposed.length / 2);
  const { distanceM: unitMm, ways } = supposed[middle]!;
  // While tags are a guess, saying them settles more than any arrows.
  const more = isGuessed
    ? null
    : moreArrows(groups, offset, {
        laws: ([0, 1] as const).flatMap((axis) => {
          const law = laws[middle]![axis];
          const isOpen = (axis === 0 ? horizontal : vertical).certainty === 'undecided';
          return law && isOpen ? [movedBy(law, -wanted[axis])] : [];
        }),
        deadZone,
        unitMm,
        daySd: ways.some(({ log }) => log) ? DAY_SD_MRAD : 0,
        record,
      });
  const shootMore = more ? { fletched: more.fletched, bare: more.bare } : null;
  const ends = Math.max(...supposed.flatMap((one) => one.ways.map(({ log }) => log?.ends ?? 1)));
  const estimate = distanceM && ends > 1 ? estimateOf(laws[0]!, ends) : null;
  return {
    vertical: {
      direction: directionOf(vertical, ['low', 'high']),
      certainty: vertical.certainty,
      p: vertical.p,
      meaning: words.say(verticalMeaning(vertical)),
    },
    horizontal: {
      direction: directionOf(horizontal, ['left', 'right']),
      certainty: horizontal.certainty,
      p: horizontal.p,
      meaning: words.say(horizontalMeaning(horizontal, hand)),
    },
    withinPlate: plate ? plate.p >= 0.5 : null,
    plate,
    fletchedForm: form,
    estimate,
    advice: [
      ...(isGuessed ? [sayTheTags(pOfTags, words)] : []),
      ...(distanceM ? [] : [sayTheDistance(words)]),
      ...(options.log?.doubted ? [sayTheEntry(options.log.doubted, words)] : []),
      // What the log knows of the bow sizes a step, and only at a distance.
      ...(isGuessed || (!distanceM && ends > 1)
        ? []
        : advise(
            {
              hand,
              vertical,
              horizontal,
              beyondPlate: beyondPlate(offset, plate),
              fletchedForm: form,
              shootMore,
              isMoreEnough: more && offset.posterior ? more.isEnough : null,
              proposals: options.log?.proposals ?? [],
              leftToThumb: options.log?.leftToThumb ?? BY_THUMB,
            },
            words,
          )),
    ],
    shootMore,
    summary: summaryOf(offset, {
      vertical,
      horizontal,
      hand,
      distanceM,
      preferredMrad: wanted,
      ends,
      estimate,
      isGuessed,
      supposedM: supposed.map((one) => one.distanceM),
      words,
    }),
  };
}

/** Without a log all is. */
const BY_THUMB = { horizontal: 'all', vertical: 'all' } as const;

function supposedOf(groups: Groups, { distanceM, log }: TuningOptions): Supposition[] {
  const distances = distanceM ? [distanceM] : DISTANCES_AT_FIRST;
  const ways = [{ weight: 1, groups, log: distanceM ? log : null }];
  return distances.map((one) => ({ distanceM: one, ways }));
}

interface About {
  readonly wanted: readonly [number, number];
  readonly record: ArcherRecord | undefined;
  /** Millimetres of one mrad: the distance, m. */
  readonly unitMm: number;
}

/** What is known of one coordinate, mrad: the mixture over the ways to tag. Null where nothing is. */
function lawOf(axis: 0 | 1, ways: readonly TaggedWay[], about: About): AxisLaw | null {
  const laws = ways.flatMap(({ weight, groups, log }) => {
    const law = log ? ofLog(axis, log) : ofEnd(axis, groups, about);
    return law ? [{ weight, law }] : [];
  });
  const total = laws.reduce((sum, { weight }) => sum + weight, 0);
  if (laws.length === 0) return null;
  return {
    parts: laws.flatMap(({ weight, law }) =>
      law.parts.map((part) => ({ weight: (part.weight * weight) / total, law: part.law })),
    ),
  };
}

function ofLog(axis: 0 | 1, { offsetMrad }: LogOffset): AxisLaw {
  return axis === 1 ? offsetMrad.vertical : offsetMrad.horizontal;
}

function ofEnd(axis: 0 | 1, groups: Groups, { wanted, record, unitMm }: About): AxisLaw | null {
  const posterior = groups.offset && posteriorOf(groups.offset);
  if (!posterior) return null;
  const alone = {
    mean: posterior.centre[axis] / unitMm,
    scale: posterior.scale / unitMm,
    df: posterior.df,
  };
  return withStateOfTune(alone, wanted[axis], record ? undefined : perSpreadOf(groups));
}

function estimateOf(
  [across, up]: readonly [AxisLaw | null, AxisLaw | null],
  ends: number,
): Tuning['estimate'] {
  if (!across || !up) return null;
  const half = (law: AxisLaw) => {
    const [low, high] = centralInterval(law, 0.9);
    return (high - low) / 2;
  };
  return { mrad: [meanOf(across), meanOf(up)], half90Mrad: [half(across), half(up)], ends };
}

/** 'sure' and a change of the bow need tags that vanes, a person or the counts told. */
function onGuessedTags(verdict: AxisVerdict): AxisVerdict {
  const { certainty } = verdict;
  return {
    ...verdict,
    certainty: certainty === 'sure' ? 'likely' : certainty,
    worthAChange: false,
  };
}

function sayTheTags(p: number, { say, percent }: Words): Advice {
  return {
    kind: 'say',
    adjuster: say('the tags'),
    action: say('Say first which of the marks are the bare shafts.'),
    reason: say(
      'That was guessed from where they lie ({p} for the likeliest way), and what to change stands on it.',
      { p: percent(Math.round(Math.min(p, 0.99) * 100)) },
    ),
    cautions: [],
  };
}

function sayTheEntry({ adjuster, change, label }: DoubtedEntry, words: Words): Advice {
  return {
    kind: 'say',
    adjuster: adjusterName(adjuster, words),
    action: words.say('Look whether "{change}" before {end} is written down the right way round.', {
      change: changeWords(adjuster, change, words),
      end: label,
    }),
    reason: words.say(
      'The bare shafts moved since as if it had been {change}. If it was, correct the set-up; what is advised stands on it.',
      { change: changeWords(adjuster, -change, words) },
    ),
    cautions: [],
  };
}

function sayTheDistance({ say }: Words): Advice {
  return {
    kind: 'say',
    adjuster: say('the distance'),
    action: say('Say from how far it was shot.'),
    reason: say('Until then only what holds from wherever this face is usually shot can be said.'),
    cautions: [],
  };
}

function directionOf<Less extends string, More extends string>(
  { sign }: AxisVerdict,
  [less, more]: readonly [Less, More],
): Less | More | 'level' {
  if (sign === 0) return 'level';
  return sign > 0 ? more : less;
}

function posteriorOf(offset: Offset): BivariateT | null {
  const { posterior, mm } = offset;
  return posterior ? { centre: mm, scale: posterior.scaleMm, df: posterior.df } : null;
}

/** The offset's scale per axis over the spread of the fletched arrows. */
function perSpreadOf({ fletched, bare, offset }: Groups): number | undefined {
  const ratio = offset?.posterior?.bareRatio;
  if (!fletched || !bare || ratio === undefined) return undefined;
  return Math.sqrt(1 / fletched.n + ratio ** 2 / bare.n);
}

const UNKNOWN: AxisVerdict = { sign: 0, certainty: 'undecided', p: 0.5, worthAChange: false };

function verticalMeaning({ sign }: AxisVerdict) {
  if (sign === 0) return 'as wanted';
  return sign > 0 ? 'nocking point low' : 'nocking point high';
}

function horizontalMeaning(verdict: AxisVerdict, hand: Hand | null) {
  if (verdict.sign === 0) return 'as wanted';
  if (hand === null) return EITHER_HAND[verdict.sign > 0 ? 'right' : 'left'];
  return isWeak(verdict, hand) ? 'weak#arrow' : 'stiff#arrow';
}

const EITHER_HAND = {
  right: 'weak if right-handed, stiff if left-handed',
  left: 'stiff if right-handed, weak if left-handed',
} as const;

function plateOf(ways: readonly TaggedWay[], radiusMm: number): Tuning['plate'] {
  const masses = ways.flatMap(({ weight, groups }) => {
    const posterior = groups.offset && posteriorOf(groups.offset);
    return posterior
      ? [{ weight, p: massInDisc(posterior, { centre: [0, 0], radius: radiusMm }) }]
      : [];
  });
  const all = masses.reduce((sum, { weight }) => sum + weight, 0);
  if (all === 0) return null;
  return { radiusMm, p: masses.reduce((sum, { weight, p }) => sum + (weight * p) / all, 0) };
}

/** Beyond the plate, the coordinate that takes it there needs the coarse tool. */
function beyondPlate(
  { mm }: Offset,
  plate: Tuning['plate'],
): { vertical: boolean; horizontal: boolean } {
  if (!plate || plate.p >= 0.5) return { vertical: false, horizontal: false };
  const [across, up] = [Math.abs(mm[0]), Math.abs(mm[1])];
  return {
    vertical: up > plate.radiusMm || up >= across,
    horizontal: across > plate.radiusMm || across > up,
  };
}

/** What a day adds to all its arrows, as far as the log does not know it yet, standard deviation. */
const DAY_SD_MRAD = 0.5;

function moreArrows(
  groups: Groups,
  offset: Offset,
  {
    laws,
    deadZone,
    unitMm,
    daySd,
    record,
  }: {
    readonly laws: readonly AxisLaw[];
    readonly deadZone: number;
    readonly unitMm: number;
    readonly daySd: number;
    readonly record: ArcherRecord | undefined;
  },
): FurtherArrows | null {
  if (!groups.fletched || !groups.bare) return null;
  // Two of each is the least that tells a spread at all.
  if (!offset.posterior) {
    const [f, b] = [groups.fletched.n, groups.bare.n];
    return {
      fletched: Math.max(1, 3 - f),
      bare: Math.max(1, 2 - b),
      probability: 1,
      isEnough: true,
    };
  }
  if (laws.length === 0) return null;
  const { sigmaMm, df, bareRatio } = offset.posterior;
  return furtherArrows({
    fletched: groups.fletched.n,
    bare: groups.bare.n,
    laws,
    deadZone,
    daySd,
    bareRatio,
    // What a day adds is no better known by a record.
    isOnRecord: record !== undefined && daySd === 0,
    ...(record ? { sigma: sigmaMm / unitMm, df } : amongArchers(sigmaMm / unitMm, df)),
  });
}

/**
 * A spread that a few arrows tell, mrad, drawn towards what archers shoot: who happens to shoot close
 * together once must not be promised that few arrows more are enough.
 */
function amongArchers(sigma: number, df: number): { sigma: number; df: number } {
  const { medianMrad, logSd } = SPREAD_AT_FIRST;
  // The log of a spread on so many degrees of freedom has a variance of about 1 / (2 df).
  const [own, others] = [2 * df, 1 / logSd ** 2];
  const log = (own * Math.log(sigma) + others * Math.log(medianMrad)) / (own + others);
  return { sigma: Math.exp(log), df: (own + others) / 2 };
}

interface Said {
  readonly vertical: AxisVerdict;
  readonly horizontal: AxisVerdict;
  readonly hand: Hand | null;
  readonly distanceM: number | undefined;
  readonly preferredMrad: readonly [number, number];
  /** How many ends the verdict rests on, this one included. */
  readonly ends: number;
  readonly estimate: Tuning['estimate'];
  readonly isGuessed: boolean;
  /** From where it may have been shot. */
  readonly supposedM: readonly number[];
  readonly words: Words;
}

/** One to three sentences for a person. */
function summaryOf(offset: Offset, said: Said): string {
  const { distanceM, ends, isGuessed, supposedM, words } = said;
  const notes = [
    ...(isGuessed ? [words.say('Which arrows are bare shafts was guessed.')] : []),
    ...(distanceM
      ? []
      : [
          words.say(
            'From how far it was shot is not said: this holds from {nearest} to {furthest}.',
            {
              nearest: words.inDistance(Math.min(...supposedM)),
              furthest: words.metres(Math.max(...supposedM)),
            },
          ),
        ]),
  ];
  return [ends > 1 ? withLog(offset, said) : alone(offset, said), ...notes].join(' ');
}

function alone(offset: Offset, said: Said): string {
  const { vertical, horizontal, words, distanceM } = said;
  const { say } = words;
  const [right, up] = offset.mm;
  const place = {
    up: say(up >= 0 ? '{size} above' : '{size} below', { size: sizeOf(up, words) }),
    across: say(right >= 0 ? '{size} to the right' : '{size} to the left', {
      size: sizeOf(right, words),
    }),
    at: atDistance(distanceM, words),
  };
  const where = said.isGuessed
    ? say(
        'By the likeliest tags the bare shafts are {up} and {across} of the fletched arrows{at}',
        place,
      )
    : say('The bare shafts are {up} and {across} of the fletched arrows{at}', place);
  const from = fromWanted(said);
  if (!offset.posterior) {
    return say('{where}, but with so few arrows that may be chance: shoot more.', { where });
  }
  const isOpen = ({ certainty }: AxisVerdict) => certainty === 'undecided';
  if (isOpen(vertical) && isOpen(horizontal)) {
    return say(
      '{where}; beside the spread of these few arrows that may be chance, so nothing is decided{from}.',
      { where, from },
    );
  }
  if (vertical.sign === 0 && horizontal.sign === 0 && !isOpen(vertical) && !isOpen(horizontal)) {
    return say('{where}: where you want them, as closely as these arrows can tell{from}.', {
      where,
      from,
    });
  }
  return say('{where}: {up}, {across}{from}.', {
    where,
    up: upDown(said),
    across: leftRight(said),
    from,
  });
}

/** What this end shows, and what it comes to with the log: the two may differ, and then it is seen. */
function withLog({ mm }: Offset, said: Said): string {
  const { estimate, ends, distanceM, words } = said;
  const [across, up] = estimate && distanceM ? estimate.mrad.map((mrad) => mrad * distanceM) : [];
  const upWords = up === undefined ? '' : `${highOrLow(up, words)}, `;
  const acrossWords = across === undefined ? '' : `${rightOrLeft(across, words)}, `;
  const alone = words.say('This end alone: {up}, {across}{at}.', {
    up: highOrLow(mm[1], words),
    across: rightOrLeft(mm[0], words),
    at: atDistance(distanceM, words),
  });
  const together = words.say('With your last {ends} ends: {up}; {across}{from}.', {
    ends,
    up: `${upWords}${upDown(said)}`,
    across: `${acrossWords}${leftRight(said)}`,
    from: fromWanted(said),
  });
  return `${alone} ${together}`;
}

function upDown({ vertical, words: { say } }: Said): string {
  if (vertical.certainty === 'undecided') return say('up or down undecided');
  const meaning = vertical.sign === 0 ? 'height as wanted' : verticalMeaning(vertical);
  return `${say(meaning)} (${say(vertical.certainty)})`;
}

function leftRight({ horizontal, hand, words: { say } }: Said): string {
  if (horizontal.certainty === 'undecided') return say('left or right undecided');
  const meaning =
    horizontal.sign === 0 ? 'sideways as wanted' : horizontalMeaning(horizontal, hand);
  return `${say(meaning)} (${say(horizontal.certainty)})`;
}

function fromWanted({ preferredMrad, words }: Said): string {
  const isOff = preferredMrad.some((mrad) => mrad !== 0);
  return isOff ? ` (${words.say('from your preferred offset')})` : '';
}

function atDistance(distanceM: number | undefined, { say, metres }: Words): string {
  return distanceM ? ` ${say('at {distance}', { distance: metres(distanceM) })}` : '';
}

/** '32 mm high'. */
function highOrLow(mm: number, words: Words): string {
  return words.say(mm >= 0 ? '{size} high' : '{size} low', { size: sizeOf(mm, words) });
}

function rightOrLeft(mm: number, words: Words): string {
  return words.say(mm >= 0 ? '{size} right' : '{size} left', { size: sizeOf(mm, words) });
}

function sizeOf(mm: number, words: Words): string {
  return words.mm(Math.abs(mm));
}
