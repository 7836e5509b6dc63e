import { ENGLISH, type Words } from '../words/words.ts';
import { z } from 'zod';
import type { Reading } from '../reading/reading.ts';
import { SURE } from '../tuning/advice/axis-verdict.ts';

/** How much a result asks for a person's look. */
export const lookSchema = z.object({
  /** Whether a person should look before the result is used. */
  needed: z.boolean(),
  /** Probability that something in it is wrong; 1 for a failure. Results are sorted by it. */
  p: z.number().min(0).max(1),
  /** What to look at, each a few words. */
  reasons: z.array(z.string()),
});
export type Look = z.infer<typeof lookSchema>;

export interface Expected {
  readonly fletched?: number | undefined;
  readonly bare?: number | undefined;
}

/** What a person should look at in a reading, and how likely it is that something is wrong. */
export function needsLook(
  reading: { readonly marks: readonly Reading['marks'][number][] },
  { fletched, bare }: Expected,
  { say, count }: Words = ENGLISH,
): Look {
  const own = reading.marks.filter((mark) => mark.age !== 'old');
  const reasons: string[] = [];
  const counted = fletched !== undefined && bare !== undefined;
  const shot = (fletched ?? 0) + (bare ?? 0);
  const mismatch = counted && own.length !== shot;
  if (mismatch) reasons.push(say('{marks} marks for {shot} arrows', { marks: own.length, shot }));
  if (own.length === 0 && !mismatch) reasons.push(say('no marks'));
  const unknown = own.filter((mark) => mark.age === 'unknown').length;
  if (unknown > 0) reasons.push(count(unknown, '{n} mark new or old', '{n} marks new or old'));
  // As sure as a direction has to be.
  const unsure = own.filter((mark) => mark.confidence < SURE).length;
  if (unsure > 0) reasons.push(count(unsure, '{n} mark unsure', '{n} marks unsure'));
  if (own.some(({ kindFrom }) => kindFrom === 'pattern')) reasons.push(say('tags guessed'));
  const calls = own.filter((mark) => mark.lineCall !== null).length;
  if (calls > 0) reasons.push(count(calls, '{n} line call', '{n} line calls'));
  const allRight = own.reduce((p, mark) => p * mark.confidence * (1 - (mark.lineCall?.p ?? 0)), 1);
  const wrong = mismatch || own.length === 0 || unknown > 0;
  const p = wrong ? 1 : 1 - allRight;
  return { needed: p > 0.5, p, reasons };
}

/** Of a photo that could not be read. */
export function lookAtFailure(message: string): Look {
  return { needed: true, p: 1, reasons: [message] };
}

/** Failures first, then by how likely it is that something is wrong. */
export function byNeed(
  a: { readonly ok: boolean; readonly look: Look },
  b: { readonly ok: boolean; readonly look: Look },
): number {
  return Number(a.ok) - Number(b.ok) || b.look.p - a.look.p;
}
