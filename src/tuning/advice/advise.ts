import type { Hand } from '../../request/request.ts';
import type { Words } from '../../words/words.ts';
import type { AxisVerdict } from './axis-verdict.ts';
import { CAUTIONS, type CautionName } from '../bow/cautions.ts';
import { adjusterName } from '../bow/adjuster-name.ts';
import { partOf, type Axis } from '../bow/parts.ts';
import type { LeftToThumb, Proposal } from './proposal.ts';
import type { Advice, Tuning } from './tuning.ts';

export interface Findings {
  /** Null while nobody said it. */
  readonly hand: Hand | null;
  readonly vertical: AxisVerdict;
  readonly horizontal: AxisVerdict;
  /** Which coordinates are beyond what plunger and nocking point can trim. */
  readonly beyondPlate: { readonly vertical: boolean; readonly horizontal: boolean };
  readonly fletchedForm: Tuning['fletchedForm'];
  readonly shootMore: Tuning['shootMore'];
  /** Whether `shootMore` settles it four times in five; null when too few arrows tell a spread at all. */
  readonly isMoreEnough: boolean | null;
  readonly proposals: readonly Proposal[];
  readonly leftToThumb: Readonly<Record<Axis, LeftToThumb>>;
}

/**
 * What to do, in the order of the work: the shooting first, vertical before horizontal, one change
 * at a time with arrows in between (common practice, no published source for any of it).
 */
export function advise(findings: Findings, words: Words): Advice[] {
  const { fletchedForm, shootMore } = findings;
  const { say } = words;
  const advice: Advice[] = [];
  if (fletchedForm.verdict === 'wider') {
    advice.push({
      kind: 'settle',
      adjuster: say('the shooting'),
      action: say('Shoot another end or two before you change anything on the bow.'),
      reason: fletchedForm.meaning,
      cautions: [say(CAUTIONS.coach)],
    });
  }
  const axes = axesToChange(findings);
  // Which way to turn sideways hangs on it.
  const { hand } = findings;
  if (hand === null && axes.includes('horizontal')) advice.push(sayTheHand(findings, words));
  const changes = axes.flatMap((axis) => {
    if (axis === 'vertical') return [verticalChange(findings, words)];
    return hand === null ? [] : [horizontalChange(findings, hand, words)];
  });
  if (shootMore && axes.length === 0) advice.push(shootAdvice(findings, shootMore, words));
  for (const [i, change] of changes.entries()) {
    advice.push(change);
    advice.push({
      kind: 'shoot',
      adjuster: say('bare shafts'),
      action: say(
        i + 1 < changes.length
          ? 'Shoot fletched arrows and bare shafts again, and only then make the next change.'
          : 'Shoot fletched arrows and bare shafts again.',
      ),
      reason: say('One change at a time: two at once hide what each of them did.'),
      cautions: [say(CAUTIONS.bareShafts)],
    });
  }
  if (advice.length === 0) advice.push(leaveAdvice(findings, words));
  return advice;
}

function leaveAdvice({ vertical, horizontal }: Findings, { say }: Words): Advice {
  return {
    kind: 'leave',
    adjuster: say('the bow'),
    action: say('Leave the bow as it is.'),
    reason: say(
      vertical.sign === 0 && horizontal.sign === 0
        ? 'The bare shafts are where you want them, as closely as these arrows can tell. Scores, not bare shafts, decide from here.'
        : 'The bare shafts are so near to where you want them that a change would as likely harm as help.',
    ),
    cautions: [],
  };
}

/**
 * With a log the step that it sizes, which has weighed both coordinates, or none; by the rule of thumb,
 * vertical first, only what no adjuster of the log can change. Nothing of a coordinate that is as
 * wanted, and on a day of wide groups only what is sure.
 */
function axesToChange(findings: Findings): Axis[] {
  const { proposals, leftToThumb, fletchedForm } = findings;
  const isCalled = ({ certainty, worthAChange }: AxisVerdict) =>
    worthAChange && certainty !== 'undecided';
  return (['vertical', 'horizontal'] as const)
    .filter((axis) =>
      proposals.length > 0
        ? proposals.some((proposal) => proposal.axis === axis)
        : leftToThumb[axis] !== 'nothing' && isCalled(findings[axis]),
    )
    .filter((axis) => findings[axis].sign !== 0)
    .filter((axis) => fletchedForm.verdict !== 'wider' || findings[axis].certainty === 'sure');
}

function shootAdvice(
  { isMoreEnough }: Findings,
  { fletched, bare }: NonNullable<Tuning['shootMore']>,
  { say }: Words,
): Advice {
  const more = { fletched, bare };
  const [action, reason] =
    isMoreEnough === null
      ? [
          say('Shoot {fletched} more fletched and {bare} more bare.', more),
          say('So few arrows do not tell how wide you shoot, so nothing can be said yet.'),
        ]
      : isMoreEnough
        ? [
            say('Change nothing yet: shoot {fletched} more fletched and {bare} more bare.', more),
            say(
              'With these few arrows the offset may be chance; that many would settle it four times in five.',
            ),
          ]
        : [
            say(
              'Change nothing: even {fletched} more fletched and {bare} more bare would hardly settle it.',
              more,
            ),
            say(
              'The offset is small beside your spread. Keep your ends in the log and let it add up over sessions.',
            ),
          ];
  return {
    kind: 'shoot',
    adjuster: say('bare shafts'),
    action,
    reason,
    cautions: [say(CAUTIONS.bareShafts)],
  };
}

/** 'sure', 'likely' or 'leaning', with the figure, for a reason. */
function howSure({ certainty, p }: AxisVerdict, { say, percent }: Words): string {
  const sure = say(certainty === 'undecided' ? 'leaning' : certainty);
  return `${sure} (${percent(Math.round(Math.min(p, 0.99) * 100))})`;
}

/** Beyond the plate, or where the fine adjusters are at the ends of their ranges. */
function needsCoarse(axis: Axis, { beyondPlate, leftToThumb }: Findings): boolean {
  return beyondPlate[axis] || leftToThumb[axis] === 'rest';
}

function verticalChange(findings: Findings, words: Words): Advice {
  const { vertical, proposals } = findings;
  const { say } = words;
  const isCoarse = needsCoarse('vertical', findings);
  const isMetric = words.units.length === 'mm';
  const high = vertical.sign > 0;
  const why = say(
    high
      ? 'Bare shafts are higher than you want, {sure}: nocking point low'
      : 'Bare shafts are lower than you want, {sure}: nocking point high',
    { sure: howSure(vertical, words) },
  );
  const learned = proposals.find((proposal) => proposal.axis === 'vertical');
  if (learned) return fromLog(learned, { why, beyond: isCoarse }, words);
  if (isCoarse) {
    return {
      kind: 'adjust',
      adjuster: say('tiller or nocking point'),
      action: say(
        high
          ? 'Check the nocking point against square first; then raise it in steps of {step}, and if it ends far from where it usually sits, look at the tiller with both limb bolts.'
          : 'Check the nocking point against square first; then lower it in steps of {step}, and if it ends far from where it usually sits, look at the tiller with both limb bolts.',
        { step: isMetric ? '1 mm' : '1/32 in' },
      ),
      reason: say('{why}, by more than small steps of the nocking point usually trim.', { why }),
      cautions: cautionsOf(['limbBolts', 'nockingPoint', 'coach'], words),
    };
  }
  return {
    kind: 'adjust',
    adjuster: say('nocking point'),
    action: say(NOCKING_POINT[isMetric ? 'mm' : 'in'][high ? 'up' : 'down']),
    reason: byThumb(why, words),
    cautions: cautionsOf(['nockingPoint'], words),
  };
}

const NOCKING_POINT = {
  mm: {
    up: 'Raise the nocking point by half a millimetre to one.',
    down: 'Lower the nocking point by half a millimetre to one.',
  },
  // As parts of an inch are on a rule.
  in: {
    up: 'Raise the nocking point by 1/64 to 1/32 in.',
    down: 'Lower the nocking point by 1/64 to 1/32 in.',
  },
} as const;

function sayTheHand({ horizontal }: Findings, { say }: Words): Advice {
  return {
    kind: 'say',
    adjuster: say('which hand'),
    action: say('Say whether the archer shoots right- or left-handed.'),
    reason: say(
      horizontal.sign > 0
        ? 'Bare shafts to the right are weak for a right-handed archer and stiff for a left-handed one: the change is the other way round.'
        : 'Bare shafts to the left are stiff for a right-handed archer and weak for a left-handed one: the change is the other way round.',
    ),
    cautions: [],
  };
}

function horizontalChange(findings: Findings, hand: Hand, words: Words): Advice {
  const { horizontal, proposals } = findings;
  const { say } = words;
  const isCoarse = needsCoarse('horizontal', findings);
  const weak = isWeak(horizontal, hand);
  const sure = howSure(horizontal, words);
  const why = say(WHY_SIDEWAYS[horizontal.sign > 0 ? 'right' : 'left'][hand], { sure });
  const learned = proposals.find((proposal) => proposal.axis === 'horizontal');
  if (learned) return fromLog(learned, { why, beyond: isCoarse }, words);
  if (isCoarse) {
    return {
      kind: 'adjust',
      adjuster: say('draw weight or arrow'),
      action: say(
        weak
          ? 'Take a little draw weight off with both limb bolts, half a turn at a time; if that is not enough, the arrow is too weak: a stiffer shaft, a shorter one, or a lighter point.'
          : 'Add a little draw weight with both limb bolts, half a turn at a time; if that is not enough, the arrow is too stiff: a weaker shaft, a longer one, or a heavier point.',
      ),
      reason: say('{why}, by more than the plunger can trim.', { why }),
      cautions: cautionsOf(['weakArrow', 'limbBolts', 'carbon'], words),
    };
  }
  return {
    kind: 'adjust',
    adjuster: say('plunger'),
    action: say(
      weak
        ? 'Make the plunger stiffer by two clicks or so.'
        : 'Make the plunger softer by two clicks or so.',
    ),
    reason: byThumb(why, words),
    cautions: cautionsOf(['lockParts'], words),
  };
}

const WHY_SIDEWAYS = {
  right: {
    right: 'Bare shafts are further right than you want, {sure}: for a right-handed archer weak',
    left: 'Bare shafts are further right than you want, {sure}: for a left-handed archer stiff',
  },
  left: {
    right: 'Bare shafts are further left than you want, {sure}: for a right-handed archer stiff',
    left: 'Bare shafts are further left than you want, {sure}: for a left-handed archer weak',
  },
} as const;

function byThumb(why: string, { say }: Words): string {
  return say('{why}. The amount is a rule of thumb until your log knows this bow.', { why });
}

function cautionsOf(names: readonly CautionName[], { say }: Words): string[] {
  return names.map((name) => say(CAUTIONS[name]));
}

/** Bare shafts to the right are weak for a right-handed archer, stiff for a left-handed one. */
export function isWeak({ sign }: Pick<AxisVerdict, 'sign'>, hand: Hand): boolean {
  return sign > 0 === (hand === 'right');
}

function fromLog(
  proposal: Proposal,
  { why, beyond }: { readonly why: string; readonly beyond: boolean },
  words: Words,
): Advice {
  const { fine, cautions: called } = partOf(proposal.part);
  const isCoarse = beyond && fine;
  const coarse = isCoarse
    ? ` ${words.say('It is beyond what fine adjusters usually trim: the arrow may not suit the bow.')}`
    : '';
  const name = adjusterName(proposal, words);
  return {
    kind: 'adjust',
    adjuster: name,
    action: words.say('{what}: {how}.', { what: name, how: proposal.words }),
    reason: `${why}. ${proposal.reason}${coarse}`,
    cautions: cautionsOf(isCoarse ? [...called.step, 'weakArrow', 'coach'] : called.step, words),
  };
}
