import {
  usualSizesSchema,
  type ReadingRequest,
  type UsualSizes,
} from '../../src/request/request.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { FACES } from '../../src/face/faces.ts';
import { remembered } from './remembered.ts';
import { SETTINGS_AT_FIRST, settingsSchema, type Settings } from './settings-at-first.ts';

export type { Settings };

export const settings = remembered('settings', settingsSchema, SETTINGS_AT_FIRST);

/** The size last named for each look of face. */
export const sizes = remembered<UsualSizes>('sizes', usualSizesSchema, {});

settings.subscribe(({ face }) => {
  if (face === 'auto') return;
  const { family } = FACES[face];
  if (sizes.peek()[family] !== face) sizes.value = { ...sizes.peek(), [family]: face };
});

/** What was said last, for an end of today: the wind of another day is none. */
export function settingsToday(): Settings {
  const last = settings.value;
  return last.windDay === today() ? last : { ...last, wind: '', windDay: '' };
}

/** The day of a session, as its ends' times have it. */
export function today(): string {
  return new Date().toISOString().slice(0, 10);
}

/** Indoors or out, as said, else as the distance has it; null where neither was said. */
export function settingOf({
  setting,
  distanceM,
}: Pick<Settings, 'setting' | 'distanceM'>): 'indoor' | 'outdoor' | null {
  if (setting !== null || distanceM === null) return setting;
  return distanceM <= 25 ? 'indoor' : 'outdoor';
}

/** What is so of an end because it was shot with a set-up of the book. */
export function shotWith(
  { hand }: Bow,
  { id, preferredMrad }: SetUp,
): Pick<Settings, 'setUpId' | 'hand' | 'preferredMrad'> {
  return { setUpId: id, hand, preferredMrad };
}

/** The request that the reading core understands. */
export function requestOf(from: Settings): ReadingRequest {
  return {
    face: from.face,
    ...(from.hand !== null && { hand: from.hand }),
    scoring: from.scoring,
    preferredMrad: from.preferredMrad,
    ...(from.shaftMm !== null && { shaftMm: from.shaftMm }),
    ...(from.distanceM !== null && { distanceM: from.distanceM }),
    ...(from.fletched !== null && { fletched: from.fletched }),
    ...(from.bare !== null && { bare: from.bare }),
  };
}
