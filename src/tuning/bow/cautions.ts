import type { PlainText } from '../../words/words.ts';

/** The usual cautions, in one place so that every page and sheet says the same. */
export const CAUTIONS = {
  bareShafts:
    'Bare shafts can fly wide: start close, keep to a large boss with clear ground behind and beside it, and follow the rules of your club and range.',
  carbon:
    'Look over and flex every carbon shaft before it is shot again; one that is cracked, splintered or creaks goes in the bin.',
  oddArrow:
    'An arrow that lands apart may be damaged. Before it is shot again, look for cracks, flex a carbon shaft, and see that the nock is straight and sits firmly; then look at point and vanes. When in doubt, throw it away.',
  weakArrow:
    'Never shoot an arrow that is too weak, too light or too short for the bow: check it against the table of its maker, at your draw weight and length, and ask a qualified coach when in doubt.',
  limbBolts:
    "Stay within the bow maker's range of the limb bolts, turn both by the same amount unless you mean to change the tiller, unstring before big changes, and measure brace height and tiller again afterwards.",
  lockParts:
    'Main thread first, then the lock nut: snug and never forced. Stripped threads and crushed parts cost more than a click.',
  nockingPoint:
    'Mark where it was before you move it, and check that it cannot slip on the string.',
  coach: 'What a qualified coach sees at the line outweighs a figure from a few arrows.',
} as const satisfies Record<string, PlainText>;

export type CautionName = keyof typeof CAUTIONS;
