import { GERMAN_HANDED_OUT as GERMAN_READINGS } from './german-handed-out.ts';
import { GERMAN_REFUSALS } from './german-refusals.ts';
import { GERMAN_TUNING } from './german-tuning.ts';
import { GERMAN_TRENDS } from './german-trends.ts';
import { GERMAN_DRAWN } from './german-drawn.ts';
import { GERMAN_EVENING } from './german-evening.ts';
import { GERMAN_LOOK } from './german-look.ts';
import { GERMAN_VERDICT } from './german-verdict.ts';
import { GERMAN_SET_UPS } from './german-set-ups.ts';
import { GERMAN_KEEP } from './german-keep.ts';
import { GERMAN_PAGE } from './german-page.ts';

/** What is said in English and again by its pattern. */
export const GERMAN_HANDED_OUT = { ...GERMAN_READINGS, ...GERMAN_REFUSALS };

/**
 * German as clubs speak it (common practice, from memory; no published source): Passe for an end, Auflage
 * for a face, Rohschaft for a bare shaft, Button for a plunger, Standhöhe for the brace height, Ringe for
 * points, Schießbuch for a log. It says du, as clubs do.
 */
export const GERMAN = {
  ...GERMAN_HANDED_OUT,
  ...GERMAN_TUNING,
  ...GERMAN_TRENDS,
  ...GERMAN_DRAWN,
  ...GERMAN_EVENING,
  ...GERMAN_LOOK,
  ...GERMAN_VERDICT,
  ...GERMAN_SET_UPS,
  ...GERMAN_KEEP,
  ...GERMAN_PAGE,
};
