import { z } from 'zod';
import {
  faceChoiceSchema,
  handSchema,
  SHAFT_MM,
  usualSizesSchema,
  type ReadingRequest,
  type UsualSizes,
} from '../../src/request/request.ts';
import { FACES } from '../../src/face/faces.ts';
import { remembered } from './remembered.ts';

/** What a person says about an end before it is read; the last answers are remembered. */
export const settingsSchema = z.object({
  archer: z.string().max(80),
  face: faceChoiceSchema,
  shaftMm: z.number().min(SHAFT_MM.min).max(SHAFT_MM.max).nullable(),
  hand: handSchema,
  distanceM: z.number().min(2).max(120).nullable(),
  fletched: z.int().min(0).max(36).nullable(),
  bare: z.int().min(0).max(36).nullable(),
  preferredMrad: z.tuple([z.number(), z.number()]),
  /** The set-up in use, from the set-up book; null while there is none. */
  setUpId: z.string().nullable().default(null),
  place: z.string().max(120).default(''),
  /** Null while nobody has said: the distance tells then. */
  setting: z.enum(['indoor', 'outdoor']).nullable().default(null),
  /** In words, and on which day (ISO) they were true. */
  wind: z.string().max(120).default(''),
  windDay: z.string().default(''),
});
export type Settings = z.infer<typeof settingsSchema>;

/** Before anybody has said anything: nothing is known but how many are usually shot. */
export const SETTINGS_AT_FIRST: Settings = {
  archer: '',
  face: 'auto',
  shaftMm: null,
  hand: 'right',
  distanceM: null,
  fletched: 3,
  bare: 2,
  preferredMrad: [0, 0],
  setUpId: null,
  place: '',
  setting: null,
  wind: '',
  windDay: '',
};

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

/** The request that the reading core understands. */
export function requestOf(from: Settings): ReadingRequest {
  return {
    face: from.face,
    hand: from.hand,
    preferredMrad: from.preferredMrad,
    ...(from.shaftMm !== null && { shaftMm: from.shaftMm }),
    ...(from.distanceM !== null && { distanceM: from.distanceM }),
    ...(from.fletched !== null && { fletched: from.fletched }),
    ...(from.bare !== null && { bare: from.bare }),
  };
}
