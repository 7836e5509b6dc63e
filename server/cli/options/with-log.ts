import type { Log } from '../../log/log.ts';

/** Opens the person's own log for one command. */
export async function withLog<T>(work: (log: Log) => Promise<T>): Promise<T> {
  const { dataFolder } = await import('../../log/data-folder.ts');
  const { Log } = await import('../../log/log.ts');
  const { tidiedWords } = await import('../../log/tidied-words.ts');
  const log = await Log.open(dataFolder());
  for (const sentence of tidiedWords(log)) process.stderr.write(`endwise: ${sentence}\n`);
  try {
    return await work(log);
  } finally {
    await log.close();
  }
}
