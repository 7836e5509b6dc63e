import { readingSchema, type Reading } from '../../src/reading/reading.ts';
import type { Judgement } from '../../src/reading/judge-marks.ts';
import type { OpenEnd } from '../state/open-end.ts';

/** The end's reading with a person's corrections and what follows from them. */
export function correctedReading(end: OpenEnd): Reading {
  return judgedReading(end.reading.value!, end.evaluation.value!);
}

/** A reading with marks as they are corrected, and what was judged of them. */
export function judgedReading(
  read: Reading,
  { marks, score, scoring, groups, tuning, guessedTags, notes }: Judgement,
): Reading {
  const warnings = [...new Set([...read.warnings, ...notes])];
  return readingSchema.parse({
    ...read,
    marks,
    score,
    scoring,
    groups,
    tuning,
    guessedTags,
    warnings,
  });
}
