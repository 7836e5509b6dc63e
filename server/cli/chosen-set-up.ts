import type { SetUp } from '../../src/tuning/set-up.ts';
import { UsageError } from './exit.ts';

/** By id, or by a name that only one set-up has. @throws UsageError */
export function chosenSetUp(setUps: readonly SetUp[], named: string): SetUp {
  const found = setUps.filter((setUp) => setUp.id === named);
  if (found.length === 0) found.push(...setUps.filter((setUp) => setUp.name === named));
  if (found.length === 1) return found[0]!;
  const list = setUps.map((setUp) => `${setUp.id} (${setUp.name})`).join(', ');
  throw new UsageError(`Name one set-up by its id: ${list || 'the bow has none yet'}.`);
}
