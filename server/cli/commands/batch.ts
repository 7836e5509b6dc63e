import { availableParallelism } from 'node:os';
import type { Command } from 'commander';
import type { BatchCounts } from '../../batch/run-batch.ts';
import { callerPath } from '../terminal/caller-path.ts';
import { EXIT, UsageError } from '../terminal/exit.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { addRequestOptions, requestOf, type RequestOptions } from '../options/request-options.ts';
import { withLog } from '../options/with-log.ts';

interface BatchCommandOptions extends RequestOptions, LogOptions {
  out: string;
  workers?: string;
}

const MAX_WORKERS = 64;

/** Of a batch, in the queue at once: more than a club's workers read, not all of its photos. */
const QUEUED_AT_ONCE = 48;

export function addBatchCommand(program: Command): void {
  const command = program
    .command('batch')
    .description("read an evening's photos; an interrupted batch continues where it stopped")
    .argument(
      '<photos>',
      'a manifest (CSV with a column photo, and optionally before, face, shaft_mm, ...), ' +
        'a folder or a zip archive; in these, folders and file names say archer and bow',
    )
    .requiredOption('--out <results>', 'RESULTS.jsonl, one line per photo')
    .option(
      '--workers <n>',
      'photos read at once (the number of cores), or in the queue at once (48)',
    );
  addRequestOptions(command)
    .addHelpText(
      'after',
      '\nWhat the options say holds for photos that no manifest tells of. Archers and bows that are' +
        ' in the log by these names are judged with their own record.',
    )
    .addOption(databaseOption())
    .action(batch);
}

async function batch(photos: string, options: BatchCommandOptions): Promise<void> {
  const about = requestOf(options);
  const { ManifestError } = await import('../../batch/manifest.ts');
  const { GatherError } = await import('../../batch/gather-error.ts');
  const { openEvening } = await import('../../batch/open-evening.ts');
  const { NotResultsError, ResultsFile } = await import('../../batch/results-file.ts');
  const { runBatch } = await import('../../batch/run-batch.ts');
  const { readByReadings } = await import('../../batch/read-by-readings.ts');
  const { openReadings } = await import('../../queue/open-readings.ts');
  const { isPostgresAddress, logAddress } = await import('../../log/log-address.ts');
  const { rememberedSizes } = await import('../../log/remembered-sizes.ts');

  const address = logAddress(options.database);
  const isQueue = isPostgresAddress(address);
  const workers = workersOf(options.workers, isQueue ? QUEUED_AT_ONCE : availableParallelism());
  const evening = await openEvening(callerPath(photos), about).catch((error: unknown) => {
    const known = error instanceof ManifestError || error instanceof GatherError;
    throw known ? new UsageError(error.message) : error;
  });
  const { rows } = evening;
  for (const sentence of evening.leftOut) process.stderr.write(`endwise: ${sentence}\n`);
  const results = await ResultsFile.open(callerPath(options.out)).catch(async (error: unknown) => {
    await evening.close();
    if (error instanceof NotResultsError) throw new UsageError(error.message);
    const { message } = error as Error;
    throw new UsageError(`The results file ${options.out} cannot be written: ${message}`);
  });

  const sizes = await rememberedSizes();
  const known = await knownByLog(options);
  const readings = await openReadings({ address, pool: { workers } });
  const stop = new AbortController();
  const onInterrupt = () => stop.abort();
  process.once('SIGINT', onInterrupt);
  process.once('SIGTERM', onInterrupt);
  const bar = await progressBar(rows.length);
  // Processes of our own finish what they have begun; of a queue nobody knows how long it is.
  const read = readByReadings(readings, {
    ...(isQueue && { elsewhere: stop.signal }),
    archerOf: known?.archerOf,
  });
  try {
    const counts = await runBatch(rows, results, read, {
      workers,
      sizes,
      ...(known === null ? {} : { judge: known.judge }),
      signal: stop.signal,
      onDone: (now) => bar?.update(now.skipped + now.read + now.failed, { failed: now.failed }),
    });
    bar?.stop();
    report(rows.length, counts, stop.signal.aborted);
  } finally {
    bar?.stop();
    await results.close();
    await readings.close();
    await evening.close();
  }
}

/** Null where nobody keeps a log here, or it cannot be opened: the batch does without. */
async function knownByLog(options: LogOptions) {
  const { hasLog } = await import('../../log/has-log.ts');
  if (!(await hasLog(options.database))) return null;
  const { archersOfRows, judgeRows } = await import('../../batch/judge-rows.ts');
  try {
    return await withLog(options, async (log) => ({
      judge: await judgeRows(log),
      archerOf: await archersOfRows(log),
    }));
  } catch (error) {
    process.stderr.write(`endwise: read without the log: ${(error as Error).message}\n`);
    return null;
  }
}

function workersOf(text: string | undefined, usual: number): number {
  if (text === undefined) return usual;
  const workers = Number(text);
  if (!Number.isInteger(workers) || workers < 1 || workers > MAX_WORKERS) {
    throw new UsageError(`--workers: a whole number from 1 to ${MAX_WORKERS}, not "${text}".`);
  }
  return workers;
}

async function progressBar(total: number) {
  if (!process.stderr.isTTY) return null;
  // A CommonJS package: bundled, it has its names under `default` alone.
  const { default: progress } = await import('cli-progress');
  const bar = new progress.SingleBar({
    format: 'reading [{bar}] {value}/{total}, {failed} failed, {eta_formatted} to go',
    stream: process.stderr,
  });
  bar.start(total, 0, { failed: 0 });
  return bar;
}

function report(total: number, counts: BatchCounts, interrupted: boolean): void {
  const parts = [`${counts.read} read`, `${counts.failed} failed`];
  if (counts.skipped > 0) parts.push(`${counts.skipped} were there already`);
  process.stderr.write(`endwise: ${total} photos: ${parts.join(', ')}.\n`);
  if (interrupted) {
    process.stderr.write('endwise: interrupted; the same command continues.\n');
    process.exitCode = EXIT.unreadable;
    return;
  }
  if (counts.missing > 0) {
    process.stderr.write(
      `endwise: ${counts.missing} of the manifest's photos do not exist; their lines say which.\n`,
    );
  }
  const nothingRead = counts.failed > 0 && counts.read === 0;
  if (counts.missing > 0 || nothingRead) process.exitCode = EXIT.unreadable;
}
