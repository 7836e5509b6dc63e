import { extname } from 'node:path';
import type { Command } from 'commander';
import type { Exported } from '../../log/export-log.ts';
import type { Log } from '../../log/log.ts';
import { chosenArcher } from '../options/chosen-of-log.ts';
import { callerPath } from '../terminal/caller-path.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { EXIT, UsageError } from '../terminal/exit.ts';
import { print } from '../terminal/print.ts';
import { withLog } from '../options/with-log.ts';

/** A person's own log out to a file and in again. */
export function addArchiveCommands(program: Command): void {
  program
    .command('export')
    .description('the whole log in one archive, or ends or arrows as CSV')
    .argument('<file>', 'archive (.zip), or a table with --csv')
    .option('--archer <archer>', 'only this archer, by id or name')
    .option('--csv <table>', 'ends or arrows')
    .addOption(databaseOption())
    .action(exportTo);
  program
    .command('import')
    .description('fill an empty log from an archive')
    .argument('<archive>', 'made by export')
    .addOption(databaseOption())
    .action(importFrom);
}

interface ExportCommandOptions extends LogOptions {
  archer?: string;
  csv?: string;
}

async function exportTo(file: string, options: ExportCommandOptions): Promise<void> {
  const ending = options.csv === undefined ? '.zip' : '.csv';
  if (extname(file).toLowerCase() !== ending) {
    const what = options.csv === undefined ? 'an archive' : 'a table';
    throw new UsageError(`The name of ${what} ends in ${ending}, "${file}" does not.`);
  }
  if (options.csv !== undefined) {
    await exportTable(callerPath(file), options.csv, options);
    return;
  }
  const { LogError } = await import('../../log/log-error.ts');
  const { isPostgresAddress, logAddress } = await import('../../log/log-address.ts');
  const done = await withLog(options, (log) => exportWhole(log, file, options)).catch(
    (error: unknown) => {
      const readable =
        error instanceof LogError &&
        READABLE.has(error.code) &&
        !isPostgresAddress(logAddress(options.database));
      if (!readable) throw error;
      return rescue(file, options, error);
    },
  );
  print(`${done.ends} ends and ${done.photos} photos are in ${file}.`);
  if (done.missing.length === 0) return;
  process.stderr.write(`endwise: not in it, as its missing.txt says too:\n`);
  for (const sentence of done.missing) process.stderr.write(`  ${sentence}\n`);
  process.exitCode = EXIT.unreadable;
}

async function exportTable(path: string, table: string, options: LogOptions): Promise<void> {
  if (table !== 'ends' && table !== 'arrows') {
    throw new UsageError('--csv: One of ends, arrows.');
  }
  await withLog(options, async (log) => {
    const { arrowsCsv, endsCsv } = await import('../../../src/tables/log-csv.ts');
    const { writeFileDurably } = await import('../../files/write-file-durably.ts');
    const csv = table === 'ends' ? endsCsv : arrowsCsv;
    await writeFileDurably(path, csv(await log.everything()));
  });
}

async function exportWhole(
  log: Log,
  file: string,
  { archer }: ExportCommandOptions,
): Promise<Exported> {
  const { exportLog } = await import('../../log/export-log.ts');
  const archerId = archer === undefined ? null : (await chosenArcher(log, archer)).id;
  const done = await exportLog(log, callerPath(file), archerId === null ? {} : { archerId });
  const { COMMAND_LINE } = await import('../../log/trail.ts');
  await log.noteExport(archerId, COMMAND_LINE);
  return done;
}

/** A log that cannot be opened for writing may still be read. */
const READABLE: ReadonlySet<string> = new Set(['damaged-log', 'read-only-log', 'disk-full']);

/** What can be read of a log that cannot be opened. @throws why it cannot, where nothing is left */
async function rescue(
  file: string,
  { archer }: ExportCommandOptions,
  why: Error,
): Promise<Exported> {
  const { dataFolder } = await import('../../log/data-folder.ts');
  const { openDamaged } = await import('../../log/open-damaged.ts');
  const { exportLog } = await import('../../log/export-log.ts');
  const log = openDamaged(dataFolder());
  try {
    let archers = 0;
    await log.readRecords(() => ({
      record: ({ kind }) => void (archers += Number(kind === 'archers')),
      missing: () => undefined,
    }));
    if (archers === 0) throw why;
    process.stderr.write(`endwise: ${why.message}\n`);
    return await exportLog(log, callerPath(file), archer === undefined ? {} : { archerId: archer });
  } finally {
    log.close();
  }
}

async function importFrom(file: string, options: LogOptions): Promise<void> {
  await withLog(options, async (log) => {
    const { importLog } = await import('../../log/import-log.ts');
    const done = await importLog(log, callerPath(file));
    print(`${done.ends} ends and ${done.photos} photos are in the log.`);
    if (done.madeUp !== undefined) print(done.madeUp);
  });
}
