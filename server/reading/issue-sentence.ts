import type { z } from 'zod';
import { ENGLISH } from '../../src/words/words.ts';

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
  // Said again in another language by its whole, so where comes with what.
  const where = path === '' ? '' : nameOf(path, name);
  return sentence(issue, where).replace(/^: /, '');
}

function sentence(issue: z.core.$ZodIssue, where: string): string {
  const { say } = ENGLISH;
  const asItIs = `${where}: ${issue.message}${issue.message.endsWith('.') ? '' : '.'}`;
  // What a schema of ours says by itself.
  if (!/^(Too (small|big)|Invalid)\b/.test(issue.message)) return asItIs;
  switch (issue.code) {
    case 'invalid_value':
      return say('{where}: One of {choices}.', {
        where,
        choices: issue.values.map(String).join(', '),
      });
    case 'too_small':
      if (issue.origin === 'string') return say('{where}: Missing.', { where });
      return say('{where}: At least {least}.', { where, least: String(issue.minimum) });
    case 'too_big':
      if (issue.origin === 'string') {
        return say('{where}: At most {most} letters.', { where, most: String(issue.maximum) });
      }
      return say('{where}: At most {most}.', { where, most: String(issue.maximum) });
    case 'invalid_type':
      if (issue.expected === 'number') return say('{where}: A number is needed here.', { where });
      return issue.message.endsWith('received undefined')
        ? say('{where}: Missing.', { where })
        : say('{where}: Not what belongs here.', { where });
    default:
      return asItIs;
  }
}
