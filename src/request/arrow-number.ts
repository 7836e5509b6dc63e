import { z } from 'zod';

/**
 * What is written on a shaft to tell it from its neighbours: one to three digits with at most a letter
 * beside them, or a letter alone. Capitals and small letters, and zeros before, make no difference.
 */
export const arrowNumberSchema = z
  .string()
  .overwrite(tidied)
  .regex(/^(\d{1,3}\p{L}?|\p{L}\d{0,3})$/u, 'The number of an arrow is like 7, 12 or 3B.');

function tidied(text: string): string {
  return text
    .trim()
    .normalize('NFKC')
    .toUpperCase()
    .replace(/^0+(?=\d)/, '');
}

/** As they are counted, letters last: 2, 3B, 11, A. */
export function byArrowNumber(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}
