import type { Reading } from '../../src/reading/reading.ts';
import { readingSchema } from '../../src/reading/reading.ts';
import type { OpenEnd } from '../state/open-end.ts';

/** The end's reading with a person's corrections and what follows from them. */
export function correctedReading(end: OpenEnd): Reading {
  const { marks, score, groups, tuning } = end.evaluation.value!;
  return readingSchema.parse({ ...end.reading.value!, marks, score, groups, tuning });
}
