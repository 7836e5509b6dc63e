import type { Log } from '../../log/log.ts';
import type { LogOptions } from './database-option.ts';

/** Opens the person's own log for one command. */
export async function withLog<T>(
  { database }: LogOptions,
  work: (log: Log) => Promise<T>,
): Promise<T> {
  const { logAddress } = await import('../../log/log-address.ts');
  const { Log } = await import('../../log/log.ts');
  const { tidiedWords } = await import('../../log/tidied-words.ts');
  const log = await Log.open(logAddress(database));
  for (const sentence of tidiedWords(log)) process.stderr.write(`endwise: ${sentence}\n`);
  try {
    return await work(log);
  } finally {
    await log.close();
  }
}
