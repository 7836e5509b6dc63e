import { isPostgresAddress } from '../log/log-address.ts';
import { PoolReadings } from '../reading/pool-readings.ts';
import type { Outcome } from '../reading/read-job.ts';
import { ReadingPool, type ReadingPoolOptions } from '../reading/reading-pool.ts';
import type { Readings } from '../reading/readings.ts';

export interface OpenReadingsOptions {
  /** Where the log lies. */
  readonly address: string;
  /** Without a database: the processes of this machine that read. */
  readonly pool: ReadingPoolOptions;
  /** Called with how long each question to the database took, s. */
  readonly onAsked?: (seconds: number) => void;
  /** Called with what became of each photo that this process reads itself. */
  readonly onRead?: (outcome: Outcome) => void;
}

/** Connections of one process: submitting a photo takes one for as long as the photo is written. */
const MOST_CONNECTIONS = 6;

/**
 * Where photos are read: with the log in PostgreSQL by the workers that share its queue, else by
 * processes of this machine.
 * @throws LogError
 */
export async function openReadings(options: OpenReadingsOptions): Promise<Readings> {
  const { address, pool, onAsked, onRead } = options;
  if (!isPostgresAddress(address)) return new PoolReadings(new ReadingPool(pool), onRead);
  const [{ openQueue }, { QueueReadings }, { Sweeper }] = await Promise.all([
    import('./open-queue.ts'),
    import('./queue-readings.ts'),
    import('./sweeper.ts'),
  ]);
  const { store, news, close } = await openQueue(address, {
    most: MOST_CONNECTIONS,
    ...(onAsked && { onAsked }),
  });
  const sweeper = new Sweeper(store);
  sweeper.start();
  return new QueueReadings(store, news, {
    onClose: async () => {
      await sweeper.stop();
      await close();
    },
  });
}
