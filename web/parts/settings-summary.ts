import { FACES } from '../../src/face/faces.ts';
import { SCORINGS, USUAL_SCORING } from '../../src/face/scoring.ts';
import type { Settings } from '../state/settings.ts';

/** The settings in one line, as an archer would say them. */
export function settingsSummary(of: Settings): string {
  const counts =
    of.fletched === null && of.bare === null
      ? 'any number of arrows'
      : `${of.fletched ?? '?'} fletched + ${of.bare ?? '?'} bare`;
  return [
    of.archer || null,
    of.face === 'auto' ? 'face from the photo' : FACES[of.face].name,
    of.scoring === USUAL_SCORING ? null : SCORINGS[of.scoring].name,
    of.distanceM === null ? null : `${of.distanceM} m`,
    of.shaftMm === null ? null : `${of.shaftMm} mm shafts`,
    counts,
    `${of.hand}-handed`,
  ]
    .filter((part) => part !== null)
    .join(' · ');
}
