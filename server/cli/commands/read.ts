import type { Command } from 'commander';
import type { KnownOfArcher } from '../../../src/reading/known-of-archer.ts';
import type { UsedLog } from '../../../src/reading/reading.ts';
import type { ReadingRequest } from '../../../src/request/request.ts';
import { LogError } from '../../log/log-error.ts';
import { rememberedSizes, rememberSize } from '../../log/remembered-sizes.ts';
import { loadPhotoReader } from '../../reading/load-photo-reader.ts';
import { readJob, type Outcome } from '../../reading/read-job.ts';
import { callerPath } from '../terminal/caller-path.ts';
import { EXIT, UsageError } from '../terminal/exit.ts';
import { addRequestOptions, requestOf, type RequestOptions } from '../options/request-options.ts';
import { withLog } from '../options/with-log.ts';

interface ReadOptions extends RequestOptions {
  before?: string;
  also?: string;
  archer?: string;
  bow?: string;
  setUp?: string;
  json?: true;
}

export function addReadCommand(program: Command): void {
  const command = program
    .command('read')
    .description('read one photo: rings, marks, score, groups and what they say about the bow')
    .argument('<photo>', 'JPEG, PNG, WebP or HEIC')
    .option('--before <photo>', 'the same face before this end was shot')
    .option('--also <photo>', 'the same end from another side: what both photos show is joined');
  addRequestOptions(command)
    .option(
      '--bare-at <numbers>',
      'which marks are the bare shafts, as the report counts them (2,5); all others are fletched',
    )
    .option(
      '--arrow-numbers <numbers>',
      'which mark is of which arrow, by the number on its shaft (2=7,3=11)',
    )
    .option('--archer <archer>', 'id or name in the log: their usual spread and bow count too')
    .option('--bow <bow>', 'id or name in the log; not needed where the archer has one')
    .option('--set-up <set-up>', 'id or name in the log (the last one that was shot)')
    .option('--json', 'print the reading as JSON')
    .action(read);
}

async function read(photo: string, options: ReadOptions): Promise<void> {
  const request = requestOf(options);
  const path = callerPath(photo);
  const known = await knownOf(options, path);
  const reader = loadPhotoReader();
  const { face } = request;
  const byItself = await readJob(
    {
      photo: { path },
      ...(options.before === undefined ? {} : { before: { path: callerPath(options.before) } }),
      ...(options.also === undefined ? {} : { also: { path: callerPath(options.also) } }),
      request,
      sizes: await rememberedSizes(),
    },
    reader,
  );
  const outcome: Judged = known === null ? byItself : await judged(byItself, request, known);
  if (outcome.ok && face !== 'auto') await rememberSize(face).catch(() => undefined);
  if (options.json) process.stdout.write(JSON.stringify({ photo, ...outcome }) + '\n');
  if (!outcome.ok) {
    const { message, looksLike } = outcome.error;
    const hint = looksLike === undefined ? '' : ` (--face ${looksLike})`;
    process.stderr.write(`endwise: ${message}${hint}\n`);
    process.exitCode = EXIT.unreadable;
    return;
  }
  if (!options.json) {
    const { readingReport } = await import('../terminal/reading-report.ts');
    process.stdout.write(readingReport(outcome.reading, outcome.log));
  }
}

/** What the person's log knows of who shot, where somebody was named. @throws UsageError */
async function knownOf(
  { archer, bow, setUp }: ReadOptions,
  path: string,
): Promise<KnownOfArcher | null> {
  if (archer === undefined && bow === undefined) {
    if (setUp !== undefined) throw new UsageError('--set-up: name the bow too, with --bow.');
    return null;
  }
  const { knownOfArcher, photoSha256 } = await import('../../log/known-of-archer.ts');
  const sha256 = await photoSha256(path);
  return withLog((log) => knownOfArcher(log, { archer, bow, setUp }, sha256)).catch(
    (error: unknown) => {
      const named = error instanceof LogError && error.code.startsWith('unknown-');
      throw named ? new UsageError(error.message) : error;
    },
  );
}

type Judged = Outcome & { log?: UsedLog };

async function judged(
  outcome: Outcome,
  request: ReadingRequest,
  known: KnownOfArcher,
): Promise<Judged> {
  const { judgeWithLog } = await import('../../reading/judge-with-log.ts');
  const { shotAt } = await import('../../reading/shot-at.ts');
  return judgeWithLog(outcome, request, known, shotAt(outcome.takenAt));
}
