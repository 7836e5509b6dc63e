import type { Hand } from '../../request/request.ts';
import type { AxisVerdict } from './axis-verdict.ts';
import { FORETOLD_FOR_FOUR_IN_FIVE } from './further-arrows.ts';
import { CAUTIONS } from '../bow/cautions.ts';
import { partOf, type Axis } from '../bow/parts.ts';
import type { LeftToThumb, Proposal } from './proposal.ts';
import type { Advice, Tuning } from './tuning.ts';

export interface Findings {
  readonly hand: Hand;
  readonly vertical: AxisVerdict;
  readonly horizontal: AxisVerdict;
  /** Which coordinates are beyond what plunger and nocking point can trim. */
  readonly beyondPlate: { readonly vertical: boolean; readonly horizontal: boolean };
  readonly fletchedForm: Tuning['fletchedForm'];
  readonly shootMore: Tuning['shootMore'];
  /** Probability that `shootMore` settles it; null when too few arrows tell a spread at all. */
  readonly pSettles: number | null;
  readonly proposals: readonly Proposal[];
  readonly leftToThumb: Readonly<Record<Axis, LeftToThumb>>;
}

/**
 * What to do, in the order of the work: the shooting first, vertical before horizontal, one change
 * at a time with arrows in between (common practice, no published source for any of it).
 */
export function advise(findings: Findings): Advice[] {
  const { fletchedForm, shootMore } = findings;
  const advice: Advice[] = [];
  if (fletchedForm.verdict === 'wider') {
    advice.push({
      kind: 'settle',
      adjuster: 'the shooting',
      action: 'Shoot another end or two before you change anything on the bow.',
      reason: fletchedForm.meaning,
      cautions: [CAUTIONS.coach],
    });
  }
  const changes = changesOf(findings);
  if (shootMore && changes.length === 0) advice.push(shootAdvice(findings, shootMore));
  for (const [i, change] of changes.entries()) {
    advice.push(change);
    const left = i + 1 < changes.length ? ', and only then make the next change' : '';
    advice.push({
      kind: 'shoot',
      adjuster: 'bare shafts',
      action: `Shoot fletched arrows and bare shafts again${left}.`,
      reason: 'One change at a time: two at once hide what each of them did.',
      cautions: [CAUTIONS.bareShafts],
    });
  }
  if (advice.length === 0) advice.push(leaveAdvice(findings));
  return advice;
}

function leaveAdvice({ vertical, horizontal }: Findings): Advice {
  return {
    kind: 'leave',
    adjuster: 'the bow',
    action: 'Leave the bow as it is.',
    reason:
      vertical.sign === 0 && horizontal.sign === 0
        ? 'The bare shafts are where you want them, as closely as these arrows can tell. Scores, not bare shafts, decide from here.'
        : 'The bare shafts are so near to where you want them that a change would as likely harm as help.',
    cautions: [],
  };
}

/**
 * With a log the step that it sizes, which has weighed both coordinates, or none; by the rule of thumb,
 * vertical first, only what no adjuster of the log can change. Nothing of a coordinate that is as
 * wanted, and on a day of wide groups only what is sure.
 */
function changesOf(findings: Findings): Advice[] {
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
    .filter((axis) => fletchedForm.verdict !== 'wider' || findings[axis].certainty === 'sure')
    .map((axis) => (axis === 'vertical' ? verticalChange(findings) : horizontalChange(findings)));
}

function shootAdvice({ pSettles }: Findings, more: NonNullable<Tuning['shootMore']>): Advice {
  const count = `${more.fletched} more fletched and ${more.bare} more bare`;
  const [action, reason] =
    pSettles === null
      ? [
          `Shoot ${count}.`,
          'So few arrows do not tell how wide you shoot, so nothing can be said yet.',
        ]
      : pSettles >= FORETOLD_FOR_FOUR_IN_FIVE
        ? [
            `Change nothing yet: shoot ${count}.`,
            'With these few arrows the offset may be chance; that many would settle it four times in five.',
          ]
        : [
            `Change nothing: even ${count} would hardly settle it.`,
            'The offset is small beside your spread. Keep your ends in the log and let it add up over sessions.',
          ];
  return {
    kind: 'shoot',
    adjuster: 'bare shafts',
    action,
    reason,
    cautions: [CAUTIONS.bareShafts],
  };
}

/** 'sure', 'likely' or 'leaning', with the figure, for a reason. */
function howSure({ certainty, p }: AxisVerdict): string {
  return `${certainty === 'undecided' ? 'leaning' : certainty} (${Math.round(Math.min(p, 0.99) * 100)} %)`;
}

/** Beyond the plate, or where the fine adjusters are at the ends of their ranges. */
function needsCoarse(axis: Axis, { beyondPlate, leftToThumb }: Findings): boolean {
  return beyondPlate[axis] || leftToThumb[axis] === 'rest';
}

function verticalChange(findings: Findings): Advice {
  const { vertical, proposals } = findings;
  const isCoarse = needsCoarse('vertical', findings);
  const high = vertical.sign > 0;
  const why = `Bare shafts are ${high ? 'higher' : 'lower'} than you want, ${howSure(vertical)}: nocking point ${high ? 'low' : 'high'}`;
  const learned = proposals.find((proposal) => proposal.axis === 'vertical');
  if (learned) return fromLog(learned, { why, beyond: isCoarse });
  if (isCoarse) {
    return {
      kind: 'adjust',
      adjuster: 'tiller or nocking point',
      action: `Check the nocking point against square first; then ${high ? 'raise' : 'lower'} it in steps of 1 mm, and if it ends far from where it usually sits, look at the tiller with both limb bolts.`,
      reason: `${why}, by more than small steps of the nocking point usually trim.`,
      cautions: [CAUTIONS.limbBolts, CAUTIONS.nockingPoint, CAUTIONS.coach],
    };
  }
  return {
    kind: 'adjust',
    adjuster: 'nocking point',
    action: `${high ? 'Raise' : 'Lower'} the nocking point by half a millimetre to one.`,
    reason: `${why}. The amount is a rule of thumb until your log knows this bow.`,
    cautions: [CAUTIONS.nockingPoint],
  };
}

function horizontalChange(findings: Findings): Advice {
  const { horizontal, hand, proposals } = findings;
  const isCoarse = needsCoarse('horizontal', findings);
  const weak = isWeak(horizontal, hand);
  const side = horizontal.sign > 0 ? 'right' : 'left';
  const why = `Bare shafts are further ${side} than you want, ${howSure(horizontal)}: for a ${hand}-handed archer ${weak ? 'weak' : 'stiff'}`;
  const learned = proposals.find((proposal) => proposal.axis === 'horizontal');
  if (learned) return fromLog(learned, { why, beyond: isCoarse });
  if (isCoarse) {
    return {
      kind: 'adjust',
      adjuster: 'draw weight or arrow',
      action: weak
        ? 'Take a little draw weight off with both limb bolts, half a turn at a time; if that is not enough, the arrow is too weak: a stiffer shaft, a shorter one, or a lighter point.'
        : 'Add a little draw weight with both limb bolts, half a turn at a time; if that is not enough, the arrow is too stiff: a weaker shaft, a longer one, or a heavier point.',
      reason: `${why}, by more than the plunger can trim.`,
      cautions: [CAUTIONS.weakArrow, CAUTIONS.limbBolts, CAUTIONS.carbon],
    };
  }
  return {
    kind: 'adjust',
    adjuster: 'plunger',
    action: `Make the plunger ${weak ? 'stiffer' : 'softer'} by two clicks or so.`,
    reason: `${why}. The amount is a rule of thumb until your log knows this bow.`,
    cautions: [CAUTIONS.lockParts],
  };
}

/** Bare shafts to the right are weak for a right-handed archer, stiff for a left-handed one. */
export function isWeak({ sign }: Pick<AxisVerdict, 'sign'>, hand: Hand): boolean {
  return sign > 0 === (hand === 'right');
}

function fromLog(
  proposal: Proposal,
  { why, beyond }: { readonly why: string; readonly beyond: boolean },
): Advice {
  const { fine, cautions: called } = partOf(proposal.part);
  const cautions: string[] = called.step.map((name) => CAUTIONS[name]);
  const coarse =
    beyond && fine
      ? ' It is beyond what fine adjusters usually trim: the arrow may not suit the bow.'
      : '';
  if (coarse) cautions.push(CAUTIONS.weakArrow, CAUTIONS.coach);
  return {
    kind: 'adjust',
    adjuster: proposal.name,
    action: `${proposal.name}: ${proposal.words}.`,
    reason: `${why}. ${proposal.reason}${coarse}`,
    cautions,
  };
}
