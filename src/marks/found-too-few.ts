import { ENGLISH } from '../words/words.ts';

const FOUND = {
  plain: 'found',
  standing: 'found standing',
  'both photos': 'found in the two photos',
} as const;

/** That fewer marks were found than arrows shot, and where the others may be. */
export function foundTooFew(shot: number, found: number, where: keyof typeof FOUND): string {
  const { say } = ENGLISH;
  const missing = shot - found;
  return say('{shot}, {found}: {missing}', {
    shot: shot === 1 ? say('1 arrow shot') : say('{shot} arrows shot', { shot }),
    found: say(`{found} ${FOUND[where]}`, { found }),
    missing:
      where === 'both photos'
        ? missing === 1
          ? say('one may be hidden in both or have missed the face.')
          : say('{missing} may be hidden in both or have missed the face.', { missing })
        : missing === 1
          ? say('one may be hidden or have missed the face.')
          : say('{missing} may be hidden or have missed the face.', { missing }),
  });
}
