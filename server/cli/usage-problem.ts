import type { z } from 'zod';
import { UsageError } from './exit.ts';

/** The first problem that a schema found, in the words of the command line or of a file. */
export function usageProblem(
  error: z.ZodError,
  nameOf: (field: string) => string = (field) => field,
): UsageError {
  const issue = error.issues[0]!;
  const field = issue.path.map(String).join('.');
  const where = field === '' ? '' : `${nameOf(field)}: `;
  const notANumber = issue.code === 'invalid_type' && issue.expected === 'number';
  return new UsageError(where + (notANumber ? 'A number is needed here.' : issue.message));
}
