import { ENGLISH, type Words } from '../../words/words.ts';
import type { Hand } from '../../request/request.ts';

/**
 * A preferred offset in the trade's words. Weak and stiff depend on the hand, high and low do not.
 * How much a word means is our own convention: at 30 m a little is 30 mm, plain 60 mm, well 120 mm.
 */
const DEGREES = [
  { word: 'a little', mrad: 1 },
  { word: '', mrad: 2 },
  { word: 'well', mrad: 4 },
] as const;

const SAID = ['a little {side}', '{side}#degree', 'well {side}'] as const;

interface Part {
  readonly degree: 0 | 1 | 2;
  readonly side: 'high' | 'low' | 'weak' | 'stiff';
}

/** 'a little high and weak', 'level'. The nearest words; less than half a mrad is not named. */
export function preferredWords(
  [right, up]: readonly [number, number],
  hand: Hand,
  { say }: Words = ENGLISH,
): string {
  const parts: Part[] = [];
  const vertical = degreeOf(up);
  if (vertical !== null) parts.push({ degree: vertical, side: up > 0 ? 'high' : 'low' });
  const horizontal = degreeOf(right);
  if (horizontal !== null) {
    parts.push({ degree: horizontal, side: right > 0 === (hand === 'right') ? 'weak' : 'stiff' });
  }
  const sideOf = ({ side }: Part) => say(`${side}#wanted`);
  const whole = (part: Part) => say(SAID[part.degree], { side: sideOf(part) });
  const both = (one: string, two: string) => say('{one} and {two}', { one, two });
  const [first, second] = parts;
  if (!first) return say('level');
  if (!second) return whole(first);
  if (first.degree === second.degree) return both(whole(first), sideOf(second));
  // A plain word after a degree would be read with that degree, so it goes first.
  return second.degree === 1
    ? both(whole(second), whole(first))
    : both(whole(first), whole(second));
}

function degreeOf(mrad: number): Part['degree'] | null {
  const size = Math.abs(mrad);
  if (size < 0.5) return null;
  return size < 1.5 ? 0 : size < 3 ? 1 : 2;
}

/**
 * The offset that words mean, mrad [right, up]. Null when they are not understood: high, low, weak,
 * stiff, right or left, each with 'a little' or 'well' before it or without, joined by 'and', or
 * 'level'. A degree also holds for a plain word that follows it.
 */
export function preferredFromWords(words: string, hand: Hand): [number, number] | null {
  const text = words.trim().toLowerCase().replaceAll(/\s+/g, ' ');
  if (text === 'level' || text === '') return [0, 0];
  let [right, up]: [number | null, number | null] = [null, null];
  let degree: number = DEGREES[1].mrad;
  for (const phrase of text.split(/ and |, ?/)) {
    const match = /^(?:(a little|well) )?(high|low|weak|stiff|right|left)$/.exec(phrase);
    if (!match) return null;
    const named = DEGREES.find(({ word }) => word !== '' && word === match[1]);
    if (named) degree = named.mrad;
    const side = match[2]!;
    if (side === 'high' || side === 'low') {
      if (up !== null) return null;
      up = side === 'high' ? degree : -degree;
    } else {
      if (right !== null) return null;
      const isRight = side === 'right' || side === (hand === 'right' ? 'weak' : 'stiff');
      right = isRight ? degree : -degree;
    }
  }
  return [right ?? 0, up ?? 0];
}
