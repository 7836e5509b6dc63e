import { FRENCH_HANDED_OUT as FRENCH_READINGS } from './french-handed-out.ts';
import { FRENCH_REFUSALS } from './french-refusals.ts';
import { FRENCH_TUNING } from './french-tuning.ts';
import { FRENCH_TRENDS } from './french-trends.ts';
import { FRENCH_DRAWN } from './french-drawn.ts';
import { FRENCH_EVENING } from './french-evening.ts';
import { FRENCH_LOOK } from './french-look.ts';
import { FRENCH_VERDICT } from './french-verdict.ts';
import { FRENCH_SET_UPS } from './french-set-ups.ts';
import { FRENCH_KEEP } from './french-keep.ts';
import { FRENCH_PAGE } from './french-page.ts';
import type { FullCatalogue } from './words.ts';

/** What is said in English and again by its pattern. */
export const FRENCH_HANDED_OUT = { ...FRENCH_READINGS, ...FRENCH_REFUSALS };

/**
 * French as clubs speak it (common practice, from memory; no published source): volée for an end, blason
 * for a face, fût nu for a bare shaft, empennée for fletched, bouton de pression for a plunger, band for the
 * brace height, cordon for a dividing line. It says vous.
 */
export const FRENCH: FullCatalogue = {
  ...FRENCH_HANDED_OUT,
  ...FRENCH_TUNING,
  ...FRENCH_TRENDS,
  ...FRENCH_DRAWN,
  ...FRENCH_EVENING,
  ...FRENCH_LOOK,
  ...FRENCH_VERDICT,
  ...FRENCH_SET_UPS,
  ...FRENCH_KEEP,
  ...FRENCH_PAGE,
};
