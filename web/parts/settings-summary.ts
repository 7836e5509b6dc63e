import { say, words } from '../state/words.ts';
import { FACES } from '../../src/face/faces.ts';
import { SCORINGS, USUAL_SCORING } from '../../src/face/scoring.ts';
import type { Settings } from '../state/settings.ts';

/** The settings in one line, as an archer would say them. */
export function settingsSummary(of: Settings): string {
  const { metres, number } = words.value;
  const counts =
    of.fletched === null && of.bare === null
      ? say('any number of arrows')
      : say('{fletched} fletched + {bare} bare', {
          fletched: of.fletched ?? '?',
          bare: of.bare ?? '?',
        });
  return [
    of.archer || null,
    of.face === 'auto' ? say('face from the photo') : say(FACES[of.face].name),
    of.scoring === USUAL_SCORING ? null : say(SCORINGS[of.scoring].name),
    of.distanceM === null ? null : metres(of.distanceM),
    of.shaftMm === null ? null : say('{size} shafts', { size: `${number(of.shaftMm)} mm` }),
    counts,
    of.hand === null ? null : say(`${of.hand}-handed`),
  ]
    .filter((part) => part !== null)
    .join(' · ');
}
