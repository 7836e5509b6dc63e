import type { Command } from 'commander';
import { callerPath } from '../terminal/caller-path.ts';
import { UsageError } from '../terminal/exit.ts';
import { print } from '../terminal/print.ts';
import { withLog } from '../options/with-log.ts';

/** A person's own log out to a file and in again. */
export function addArchiveCommands(program: Command): void {
  program
    .command('export')
    .description('the whole log in one archive, or ends or arrows as CSV')
    .argument('<file>', 'archive (.zip), or a table with --csv')
    .option('--archer <id>', 'only this archer')
    .option('--csv <table>', 'ends or arrows')
    .action(exportTo);
  program
    .command('import')
    .description('fill an empty log from an archive')
    .argument('<archive>', 'made by export')
    .action(importFrom);
}

async function exportTo(file: string, options: { archer?: string; csv?: string }): Promise<void> {
  const path = callerPath(file);
  await withLog(async (log) => {
    if (options.csv !== undefined) {
      if (options.csv !== 'ends' && options.csv !== 'arrows') {
        throw new UsageError('--csv: One of ends, arrows.');
      }
      const { arrowsCsv, endsCsv } = await import('../../log/log-csv.ts');
      const { writeFileDurably } = await import('../../log/write-file-durably.ts');
      const table = options.csv === 'ends' ? endsCsv : arrowsCsv;
      await writeFileDurably(path, table(await log.everything()));
      return;
    }
    const { exportLog } = await import('../../log/export-log.ts');
    const { archer } = options;
    if (archer !== undefined && !(await log.archers()).some((one) => one.id === archer)) {
      throw new UsageError(`There is no archer "${archer}" in the log.`);
    }
    const done = await exportLog(log, path, archer === undefined ? {} : { archerId: archer });
    print(`${done.ends} ends and ${done.photos} photos are in ${file}.`);
  });
}

async function importFrom(file: string): Promise<void> {
  await withLog(async (log) => {
    const { importLog } = await import('../../log/import-log.ts');
    const done = await importLog(log, callerPath(file));
    print(`${done.ends} ends and ${done.photos} photos are in the log.`);
  });
}
