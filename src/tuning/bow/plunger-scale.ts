import { ENGLISH, type Words } from '../../words/words.ts';
import { PARTS } from './parts.ts';
import type { Adjuster } from './set-up.ts';

/** How a plunger is read, as far as somebody said; null where nobody did. */
export interface PlungerScale {
  /** By whole lines and a dial's marks, or by turns of its screw. */
  readonly readBy: 'dial' | 'turns' | null;
  /** Marks of the dial in a whole turn. */
  readonly marksATurn: number | null;
  readonly higherIs: 'stiffer' | 'softer' | null;
}

export const UNSAID_PLUNGER: PlungerScale = { readBy: null, marksATurn: null, higherIs: null };

/** Of the screw, where no dial counts: far enough for any. */
const MOST_TURNS = 15;

/** How a bow's plunger is read; null where the bow has none. */
export function plungerScaleOf(adjusters: readonly Adjuster[]): PlungerScale | null {
  const plunger = adjusters.find(({ part }) => part === 'plunger');
  if (!plunger) return null;
  const { scale, higherIs = null } = plunger;
  if (scale.type !== 'dial') return { readBy: 'turns', marksATurn: null, higherIs };
  return { readBy: 'dial', marksATurn: scale.positionsPerLine, higherIs };
}

/** A bow's adjusters with the plunger read as was said; what was not said stays the usual. */
export function withPlungerScale(
  adjusters: readonly Adjuster[],
  { readBy, marksATurn, higherIs }: PlungerScale,
): Adjuster[] {
  return adjusters.map((adjuster): Adjuster => {
    if (adjuster.part !== 'plunger') return adjuster;
    const sense = higherIs === null ? {} : { higherIs };
    if (readBy === 'turns') {
      const scale = { type: 'number' as const, unit: 'turns', step: 0.25, min: 0, max: MOST_TURNS };
      return { ...adjuster, ...sense, scale };
    }
    const scale = adjuster.scale.type === 'dial' ? adjuster.scale : PARTS.plunger.usual.scale;
    const positionsPerLine = marksATurn ?? scale.positionsPerLine;
    return { ...adjuster, ...sense, scale: { ...scale, positionsPerLine } };
  });
}

/** What is taken for granted until somebody says it, as a sentence; null where all was said. */
export function unsaidOfPlunger(
  { readBy, marksATurn, higherIs }: PlungerScale,
  { say }: Words = ENGLISH,
): string | null {
  const { positionsPerLine: marks } = PARTS.plunger.usual.scale;
  const unsaid = [
    ...(readBy === null ? [say('read by lines and a dial')] : []),
    ...(readBy !== 'turns' && marksATurn === null ? [say('{marks} marks a turn', { marks })] : []),
    ...(higherIs === null ? [say(`a higher number is ${PARTS.plunger.higherIs}`)] : []),
  ];
  return unsaid.length === 0
    ? null
    : say('Not said, so taken as usual: {unsaid}.', { unsaid: unsaid.join(', ') });
}
