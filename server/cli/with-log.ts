import type { Bow } from '../../src/tuning/set-up.ts';
import type { Log } from '../log/log.ts';
import { UsageError } from './exit.ts';

/** Opens the person's own log for one command. */
export async function withLog<T>(work: (log: Log) => Promise<T>): Promise<T> {
  const { dataFolder } = await import('../log/data-folder.ts');
  const { Log } = await import('../log/log.ts');
  const log = await Log.open(dataFolder());
  try {
    return await work(log);
  } finally {
    await log.close();
  }
}

/** The bow that was named by id or name; without a name, the only one there is. */
export async function chosenBow(log: Log, named: string | undefined): Promise<Bow> {
  const bows = await log.bows();
  if (bows.length === 0)
    throw new UsageError('There is no bow in the log yet: add one on the page.');
  const found =
    named === undefined ? bows : bows.filter((bow) => bow.id === named || bow.name === named);
  if (found.length === 1) return found[0]!;
  const list = bows.map((bow) => `${bow.id} (${bow.name})`).join(', ');
  throw new UsageError(`Name one bow with --bow: ${list}.`);
}
