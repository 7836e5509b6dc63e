import { ENGLISH } from '../words/words.ts';

/** Where the arrows were looked for: of one that was shot, of one that is missing, of several. */
const TEXTS = {
  plain: [
    '1 arrow shot, 0 found: one may be hidden or have missed the face.',
    '{shot} arrows shot, {found} found: one may be hidden or have missed the face.',
    '{shot} arrows shot, {found} found: {missing} may be hidden or have missed the face.',
  ],
  standing: [
    '1 arrow shot, 0 found standing: one may be hidden or have missed the face.',
    '{shot} arrows shot, {found} found standing: one may be hidden or have missed the face.',
    '{shot} arrows shot, {found} found standing: {missing} may be hidden or have missed the face.',
  ],
  'both photos': [
    '1 arrow shot, 0 found in the two photos: one may be hidden in both or have missed the face.',
    '{shot} arrows shot, {found} found in the two photos: one may be hidden in both or have missed the face.',
    '{shot} arrows shot, {found} found in the two photos: {missing} may be hidden in both or have missed the face.',
  ],
} as const;

/** That fewer marks were found than arrows shot, and where the others may be. */
export function foundTooFew(shot: number, found: number, where: keyof typeof TEXTS): string {
  const [only, one, several] = TEXTS[where];
  const missing = shot - found;
  if (shot === 1) return ENGLISH.say(only);
  return missing === 1
    ? ENGLISH.say(one, { shot, found })
    : ENGLISH.say(several, { shot, found, missing });
}
