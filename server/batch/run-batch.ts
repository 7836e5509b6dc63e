import { lookAtFailure, needsLook } from '../../src/evening/needs-look.ts';
import type { ReadingResult, UsedLog } from '../../src/reading/reading.ts';
import type { UsualSizes } from '../../src/request/request.ts';
import { LogError } from '../log/log-error.ts';
import { explainFailure } from '../reading/explain-failure.ts';
import type { Outcome } from '../reading/read-job.ts';
import type { ReadingJob } from '../reading/reading-job.ts';
import type { ManifestRow } from './manifest.ts';
import type { ResultsFile } from './results-file.ts';

export interface BatchOptions {
  /** Jobs that run at once. */
  readonly workers: number;
  readonly sizes: UsualSizes;
  /** Judges what was read with the log, where the row's archer is in it. @default as it is */
  readonly judge?: (outcome: Outcome, row: ManifestRow) => Promise<Outcome & { log?: UsedLog }>;
  readonly onDone?: (counts: BatchCounts) => void;
  readonly signal?: AbortSignal;
}

export interface BatchCounts {
  /** Rows that need no work because a line for them was there at the start. */
  skipped: number;
  read: number;
  failed: number;
  /** Of the failed, those whose photo was not there at all. */
  missing: number;
}

/** A result with the manifest's other columns beside it. */
export type BatchLine = ReadingResult & Record<string, unknown>;

/**
 * Reads every row that has no line yet and appends a line for each as it finishes. A photo that cannot
 * be read never stops the rest.
 */
export async function runBatch(
  rows: readonly ManifestRow[],
  results: ResultsFile,
  read: (job: ReadingJob, row: ManifestRow) => Promise<Outcome>,
  options: BatchOptions,
): Promise<BatchCounts> {
  const counts: BatchCounts = { skipped: 0, read: 0, failed: 0, missing: 0 };
  const todo = withoutDone(rows, results.done);
  counts.skipped = rows.length - todo.length;
  const next = todo.values();
  const work = async () => {
    for (const row of next) {
      if (options.signal?.aborted) return;
      const byItself = await readRow(row, read, options);
      if (byItself === null) return;
      const outcome = (await options.judge?.(byItself, row)) ?? byItself;
      await results.append(lineOf(row, outcome));
      if (outcome.ok) counts.read++;
      else counts.failed++;
      if (!outcome.ok && outcome.error.code === 'no-file') counts.missing++;
      options.onDone?.(counts);
    }
  };
  await Promise.all(Array.from({ length: options.workers }, work));
  return counts;
}

function withoutDone(rows: readonly ManifestRow[], done: ReadonlyMap<string, number>) {
  const left = new Map(done);
  return rows.filter((row) => {
    const lines = left.get(row.photo) ?? 0;
    if (lines > 0) left.set(row.photo, lines - 1);
    return lines === 0;
  });
}

/** Null where it was interrupted. @throws LogError where the queue's database is away */
async function readRow(
  row: ManifestRow,
  read: (job: ReadingJob, row: ManifestRow) => Promise<Outcome>,
  options: BatchOptions,
): Promise<Outcome | null> {
  if (row.request === null) {
    const message = row.problem ?? 'The row cannot be read.';
    return { ok: false, elapsedMs: 0, error: { code: 'bad-row', message } };
  }
  try {
    const job = {
      photo: { path: row.photoPath },
      ...(row.beforePath === null ? {} : { before: { path: row.beforePath } }),
      ...(row.alsoPath === null ? {} : { also: { path: row.alsoPath } }),
      ...(row.earlierPath === null ? {} : { earlier: { path: row.earlierPath } }),
      request: row.request,
      sizes: options.sizes,
    };
    return await read(job, row);
  } catch (error) {
    if (options.signal?.aborted) return null;
    if (error instanceof LogError) throw error;
    return { ok: false, elapsedMs: 0, error: explainFailure(error) };
  }
}

const OWN_FIELDS = new Set([
  'photo',
  'ok',
  'elapsedMs',
  'reading',
  'error',
  'takenAt',
  'beforePhoto',
  'alsoPhoto',
  'request',
  'look',
  'columns',
  'log',
]);

/** Other columns keep their names; one named like a field of ours goes under `columns`. */
function lineOf(row: ManifestRow, outcome: Outcome): BatchLine {
  const others = Object.entries(row.others);
  const clashing = others.filter(([name]) => OWN_FIELDS.has(name));
  const { usedEarlier, ...result } = outcome.ok ? outcome : { ...outcome, usedEarlier: undefined };
  const beforePhoto = usedEarlier ? row.earlier : row.before;
  return {
    photo: row.photo,
    ...result,
    look: outcome.ok
      ? needsLook(outcome.reading, row.request ?? {})
      : lookAtFailure(outcome.error.message),
    ...(row.request === null ? {} : { request: row.request }),
    ...(beforePhoto === null ? {} : { beforePhoto }),
    ...(row.also === null ? {} : { alsoPhoto: row.also }),
    ...Object.fromEntries(others.filter(([name]) => !OWN_FIELDS.has(name))),
    ...(clashing.length > 0 ? { columns: Object.fromEntries(clashing) } : {}),
  };
}
