import type { z } from 'zod';

/**
 * What a schema found wrong first, as a sentence: where, and what would be right.
 * @param nameOf what a person calls a field, by its path and the name that the path begins with
 */
export function issueSentence(
  error: z.ZodError,
  nameOf: (path: string, name: string) => string = (path) => path,
): string {
  const issue = error.issues[0]!;
  const [name = '', ...within] = issue.path.map(String);
  const path = [name, ...within].join('.');
  const where = path === '' ? '' : `${nameOf(path, name)}: `;
  return where + sentence(issue);
}

function sentence(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_value') return `One of ${issue.values.map(String).join(', ')}.`;
  if (issue.code === 'invalid_type' && issue.expected === 'number') {
    return 'A number is needed here.';
  }
  return issue.message.endsWith('.') ? issue.message : `${issue.message}.`;
}
