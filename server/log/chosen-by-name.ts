import { LogError, type LogErrorCode } from './log-error.ts';

/**
 * The one of that id or, where none has it, of that name.
 * @throws LogError when there is none, or a name fits several
 */
export function chosenByName<T extends { readonly id: string; readonly name: string }>(
  all: readonly T[],
  what: 'archer' | 'bow' | 'set-up' | 'coach',
  named: string,
): T {
  const wanted = plain(named);
  const found = all.filter(({ id }) => id === named);
  if (found.length === 0) found.push(...all.filter(({ name }) => plain(name) === wanted));
  if (found.length === 1) return found[0]!;
  const code: LogErrorCode = `unknown-${what}`;
  if (found.length > 1) {
    const ids = found.map(({ id }) => id).join(', ');
    throw new LogError(code, `There are ${found.length} of the name "${named}" in the log: give the ${what}'s id, ${ids}.`); // prettier-ignore
  }
  const list = all.map(({ id, name }) => `${id} (${name})`).join(', ');
  const there = list === '' ? `there is no ${what} yet` : `there is ${list}`;
  throw new LogError(code, `There is no ${what} "${named}" in the log: ${there}.`);
}

/** Names as people write them: case and spaces around them do not matter. */
function plain(name: string): string {
  return name.trim().toLocaleLowerCase();
}
