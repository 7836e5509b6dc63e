import type { PlainText } from '../../words/words.ts';
import type { AdjusterScale } from './adjuster-scale.ts';
import type { CautionName } from './cautions.ts';
import { LENGTHS, MASSES, PLAIN, TURNS, WEIGHTS, type Units } from './units.ts';

export type Axis = 'horizontal' | 'vertical';

/** What is expected of a movement, mrad, before a bow's own ends say so. */
export interface Expected {
  readonly mean: number;
  readonly sd: number;
}

/**
 * What a part does to where the bare shafts land beside the fletched arrows, for a right-handed
 * archer: mrad to the right and up per unit.
 */
interface Effect {
  /**
   * What one unit is: of a number by its unit's name, of a dial a turn, of a list the next choice. Null
   * where nothing is known of sizes, so that effects are those of the adjuster's smallest step.
   */
  readonly per: Units | null;
  readonly horizontal: Expected;
  readonly vertical: Expected;
}

/** For what a part is reached for, and as which one of them: 1 first. */
interface Tool {
  readonly axis: Axis;
  /** While the bare shafts lie within the plate. */
  readonly within: number;
  /** When they lie beyond it. */
  readonly beyond: number;
}

/** All that endwise knows of a part of a bow or arrow; whatever lists parts derives from it. */
export interface PartEntry {
  /** As a new bow has it, null where it is not on every bow: what it is called and how it is read. */
  readonly usual: { readonly name: PlainText; readonly scale: AdjusterScale } | null;
  /** Where the buttons start from when nothing was read yet, in the usual unit; null: its least. */
  readonly startsAt: number | null;
  /** A length, mass or weight, above zero whatever the range says. */
  readonly aboveZero: boolean;
  /** What is said of a higher and of a lower reading. */
  readonly directions: readonly [more: PlainText, less: PlainText];
  /** What a higher reading usually is of a part that is made to read either way; null: always more. */
  readonly higherIs: 'stiffer' | 'softer' | null;
  /** Place in the order of the work, lowest first: each upsets those after it and none before it. */
  readonly work: number;
  /** What it is called when it has to be measured again, since others move it; null when none does. */
  readonly measuredAgain: PlainText | null;
  readonly effect: Effect;
  /** Null for what is not reached for unless this bow's own ends show what it does. */
  readonly tool: Tool | null;
  /** It trims: what lies far off is not its business. */
  readonly fine: boolean;
  /** Of the arrow, not of the bow: with another reading they are other arrows. */
  readonly ofArrow: boolean;
  /** Said where a step of it is advised, and where it is put back to an older reading. */
  readonly cautions: {
    readonly step: readonly CautionName[];
    readonly restore: readonly CautionName[];
  };
}

function number(unit: string, step: number, min: number, max: number): AdjusterScale {
  return { type: 'number', unit, step, min, max };
}

const none = (sd: number): Expected => ({ mean: 0, sd });
const NO_CAUTION = { step: [], restore: [] } as const;
/** Of what bends or breaks when it is wrong. */
const OF_LIMBS = {
  step: ['limbBolts', 'weakArrow'],
  restore: ['limbBolts', 'weakArrow', 'carbon'],
} as const;
const OF_ARROWS = { step: ['weakArrow', 'carbon'], restore: ['weakArrow', 'carbon'] } as const;

/**
 * Names, units, steps, the order of the work (the arrow and the limbs first, the plunger last) and the
 * signs of effects are common practice, no published source: a stiffer plunger or spring makes the arrow
 * act stiffer, more draw weight, length, point mass or a weaker shaft makes it act weaker, a higher
 * nocking point brings the bare shafts down. Sizes of effects are our own judgement, wide enough that an
 * archer's first changes outweigh them; where the trade does not agree on a sign the mean is zero.
 */
export const PARTS = {
  plunger: {
    usual: { name: 'Plunger', scale: { type: 'dial', positionsPerLine: 10, lines: 10 } },
    startsAt: null,
    aboveZero: false,
    directions: ['stiffer#part', 'softer#part'],
    higherIs: 'stiffer',
    work: 120,
    measuredAgain: null,
    // A turn of the thread: one line of the dial.
    effect: { per: TURNS, horizontal: { mean: -3.5, sd: 2.5 }, vertical: none(0.6) },
    tool: { axis: 'horizontal', within: 1, beyond: 3 },
    fine: true,
    ofArrow: false,
    cautions: { step: ['lockParts'], restore: [] },
  },
  'plunger-spring': {
    usual: {
      name: 'Plunger spring',
      scale: { type: 'choice', choices: ['soft', 'medium', 'stiff'] },
    },
    startsAt: null,
    aboveZero: false,
    directions: ['stiffer#part', 'softer#part'],
    higherIs: null,
    work: 110,
    measuredAgain: null,
    effect: { per: PLAIN, horizontal: { mean: -2, sd: 1.5 }, vertical: none(0.3) },
    tool: { axis: 'horizontal', within: 2, beyond: 4 },
    fine: true,
    ofArrow: false,
    cautions: { step: ['lockParts'], restore: [] },
  },
  'nocking-point': {
    usual: { name: 'Nocking point above square', scale: number('mm', 0.5, -20, 40) },
    startsAt: 6,
    aboveZero: false,
    directions: ['higher', 'lower'],
    higherIs: null,
    work: 90,
    measuredAgain: 'nocking point',
    effect: { per: LENGTHS, horizontal: none(0.3), vertical: { mean: -1.6, sd: 1 } },
    tool: { axis: 'vertical', within: 1, beyond: 1 },
    fine: true,
    ofArrow: false,
    cautions: { step: ['nockingPoint'], restore: [] },
  },
  tiller: {
    usual: { name: 'Tiller, upper minus lower', scale: number('mm', 1, -30, 30) },
    startsAt: null,
    aboveZero: false,
    directions: ['more', 'less'],
    higherIs: null,
    work: 70,
    measuredAgain: 'tiller',
    effect: { per: LENGTHS, horizontal: none(0.1), vertical: none(0.4) },
    tool: { axis: 'vertical', within: 2, beyond: 2 },
    fine: false,
    ofArrow: false,
    cautions: OF_LIMBS,
  },
  'limb-bolts': {
    usual: {
      name: 'Limb bolts, turns in from the outermost allowed',
      scale: number('turns', 0.25, 0, 20),
    },
    startsAt: null,
    aboveZero: false,
    directions: ['in#turns', 'out#turns'],
    higherIs: null,
    work: 50,
    measuredAgain: null,
    effect: { per: TURNS, horizontal: { mean: 1, sd: 0.8 }, vertical: none(0.5) },
    tool: { axis: 'horizontal', within: 3, beyond: 1 },
    fine: false,
    ofArrow: false,
    cautions: OF_LIMBS,
  },
  'draw-weight': {
    usual: { name: 'Draw weight at full draw', scale: number('lb', 0.5, 1, 100) },
    startsAt: 34,
    aboveZero: true,
    directions: ['more', 'less'],
    higherIs: null,
    work: 60,
    measuredAgain: null,
    effect: { per: WEIGHTS, horizontal: { mean: 0.8, sd: 0.6 }, vertical: none(0.3) },
    tool: { axis: 'horizontal', within: 4, beyond: 2 },
    fine: false,
    ofArrow: false,
    cautions: OF_LIMBS,
  },
  'brace-height': {
    usual: { name: 'Brace height', scale: number('mm', 1, 1, 350) },
    startsAt: 220,
    aboveZero: true,
    directions: ['higher', 'lower'],
    higherIs: null,
    work: 80,
    measuredAgain: 'brace height',
    effect: { per: LENGTHS, horizontal: none(0.15), vertical: none(0.15) },
    tool: null,
    fine: false,
    ofArrow: false,
    cautions: NO_CAUTION,
  },
  clicker: {
    usual: { name: 'Clicker, in front of the plunger', scale: number('mm', 1, -60, 60) },
    startsAt: null,
    aboveZero: false,
    directions: ['out', 'in'],
    higherIs: null,
    work: 85,
    measuredAgain: null,
    // Farther out is drawn farther: about 2 lb an inch, and so much weaker an arrow.
    effect: { per: LENGTHS, horizontal: { mean: 0.06, sd: 0.06 }, vertical: none(0.1) },
    tool: null,
    fine: false,
    ofArrow: false,
    cautions: { step: ['weakArrow', 'coach'], restore: ['weakArrow', 'carbon'] },
  },
  'centre-shot': {
    usual: { name: 'Centre shot, point outside the line', scale: number('mm', 0.5, -15, 15) },
    startsAt: null,
    aboveZero: false,
    directions: ['out', 'in'],
    higherIs: null,
    work: 100,
    measuredAgain: null,
    effect: { per: LENGTHS, horizontal: none(1), vertical: none(0.2) },
    tool: null,
    fine: false,
    ofArrow: false,
    cautions: NO_CAUTION,
  },
  spine: {
    usual: { name: 'Static spine', scale: number('', 10, 100, 2500) },
    startsAt: 600,
    aboveZero: true,
    directions: ['weaker#shaft', 'stiffer#shaft'],
    higherIs: null,
    work: 10,
    measuredAgain: null,
    effect: { per: PLAIN, horizontal: { mean: 0.02, sd: 0.015 }, vertical: none(0.005) },
    tool: null,
    fine: false,
    ofArrow: true,
    cautions: OF_ARROWS,
  },
  'arrow-length': {
    usual: { name: 'Arrow length', scale: number('mm', 5, 300, 1000) },
    startsAt: 720,
    aboveZero: true,
    directions: ['longer', 'shorter'],
    higherIs: null,
    work: 20,
    measuredAgain: null,
    effect: { per: LENGTHS, horizontal: { mean: 0.05, sd: 0.04 }, vertical: none(0.02) },
    tool: null,
    fine: false,
    ofArrow: true,
    cautions: OF_ARROWS,
  },
  'point-mass': {
    usual: { name: 'Point', scale: number('grain', 5, 10, 500) },
    startsAt: 100,
    aboveZero: true,
    directions: ['heavier', 'lighter'],
    higherIs: null,
    work: 30,
    measuredAgain: null,
    effect: { per: MASSES, horizontal: { mean: 0.03, sd: 0.025 }, vertical: none(0.01) },
    tool: null,
    fine: false,
    ofArrow: true,
    cautions: OF_ARROWS,
  },
  'shaft-diameter': {
    usual: { name: 'Shaft diameter', scale: number('mm', 0.1, 3, 12) },
    startsAt: 5.5,
    aboveZero: true,
    directions: ['thicker', 'thinner'],
    higherIs: null,
    work: 40,
    measuredAgain: null,
    effect: { per: LENGTHS, horizontal: none(2), vertical: none(1) },
    tool: null,
    fine: false,
    ofArrow: true,
    cautions: OF_ARROWS,
  },
  /** Anything that an archer adds. */
  own: {
    usual: null,
    startsAt: null,
    aboveZero: false,
    directions: ['up#reading', 'down#reading'],
    higherIs: null,
    work: 130,
    measuredAgain: null,
    effect: { per: null, horizontal: none(0.7), vertical: none(0.7) },
    tool: null,
    fine: false,
    ofArrow: false,
    cautions: NO_CAUTION,
  },
} as const satisfies Record<string, PartEntry>;

/** What a part does for the flight of the arrow. */
export type AdjusterPart = keyof typeof PARTS;

export const ADJUSTER_PARTS = Object.keys(PARTS) as [AdjusterPart, ...AdjusterPart[]];

/** The entry of a part, in the form that all of them have. */
export function partOf(part: AdjusterPart): PartEntry {
  return PARTS[part];
}

/** Whether a higher reading of an adjuster is less of what its part does. */
export function isReversed(adjuster: {
  readonly part: AdjusterPart;
  readonly higherIs?: 'stiffer' | 'softer' | undefined;
}): boolean {
  const { higherIs, directions } = partOf(adjuster.part);
  return higherIs !== null && adjuster.higherIs === directions[1].replace(/#.*$/, '');
}
