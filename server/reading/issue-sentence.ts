import type { z } from 'zod';

/** What a schema found wrong first, as a sentence: where, and what would be right. */
export function issueSentence(
  error: z.ZodError,
  nameOf: (field: string) => string = (field) => field,
): string {
  const issue = error.issues[0]!;
  const field = issue.path.map(String).join('.');
  const where = field === '' ? '' : `${nameOf(field)}: `;
  return where + sentence(issue);
}

function sentence(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_value') return `One of ${issue.values.map(String).join(', ')}.`;
  if (issue.code === 'invalid_type' && issue.expected === 'number') {
    return 'A number is needed here.';
  }
  return issue.message.endsWith('.') ? issue.message : `${issue.message}.`;
}
