import { InvalidArgumentError, type Command } from 'commander';
import { z } from 'zod';
import type { QueueStore } from '../../queue/queue-store.ts';
import type { WatchAddress } from '../../watch/watch-server.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { queueAddress } from '../options/queue-address.ts';
import { watchOption } from '../options/watch-option.ts';
import { UsageError } from '../terminal/exit.ts';
import { print } from '../terminal/print.ts';

/** Reading for a club's servers, and a look at what waits for it. */
export function addQueueCommands(program: Command): void {
  program
    .command('worker')
    .description("read the photos that a club's servers and batches put into their database")
    .option('--at-once <n>', 'photos read at once (the number of cores)', count)
    .addOption(watchOption())
    .addOption(databaseOption())
    .action(worker);
  program
    .command('jobs')
    .description('what waits to be read, and photos that brought their workers down')
    .option('--again <id>', 'put one that was set aside into the queue again')
    .option('--drop <id>', 'forget one, with its photos')
    .addOption(databaseOption())
    .action(jobs);
}

interface WorkerCommandOptions extends LogOptions {
  atOnce?: number;
  metrics?: WatchAddress;
}

async function worker(options: WorkerCommandOptions): Promise<void> {
  const address = queueAddress(options);
  const { work } = await import('../../worker/work.ts');
  await work({ address, workers: options.atOnce, watch: options.metrics });
}

interface JobsCommandOptions extends LogOptions {
  again?: string;
  drop?: string;
}

async function jobs(options: JobsCommandOptions): Promise<void> {
  const { openQueue } = await import('../../queue/open-queue.ts');
  const { explainPostgres } = await import('../../log/explain-postgres.ts');
  const { store, close } = await openQueue(queueAddress(options), { most: 1 });
  try {
    if (options.again !== undefined) await change(options.again, (id) => store.putBack(id));
    else if (options.drop !== undefined) await change(options.drop, (id) => store.drop(id));
    else await show(store);
  } catch (error) {
    throw explainPostgres(error);
  } finally {
    await close();
  }
}

async function change(id: string, how: (id: string) => Promise<boolean>): Promise<void> {
  if (!z.uuid().safeParse(id).success || !(await how(id)))
    throw new UsageError(`There is no such job, "${id}".`);
  print('Done.');
}

async function show(store: QueueStore): Promise<void> {
  const { waiting, reading, setAside, kept, oldestSeconds } = await store.figures();
  const oldest = waiting === 0 ? '' : `, the oldest for ${Math.round(oldestSeconds)} s`;
  print(
    `${waiting} wait${oldest}; ${reading} are being read; ${kept} results are kept; ` +
      `${setAside} were set aside.`,
  );
  for (const { id, submittedAt, goesAt } of await store.setAside()) {
    const day = (date: Date) => date.toISOString().slice(0, 16).replace('T', ' ');
    print(`${id}  handed in ${day(submittedAt)}  goes ${day(goesAt)}`);
  }
}

function count(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1 || value > 64) {
    throw new InvalidArgumentError('A whole number from 1 to 64.');
  }
  return value;
}
