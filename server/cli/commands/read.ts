import type { Command } from 'commander';
import { rememberedSizes, rememberSize } from '../../log/remembered-sizes.ts';
import { loadPhotoReader } from '../../reading/load-photo-reader.ts';
import { readJob } from '../../reading/read-job.ts';
import { callerPath } from '../caller-path.ts';
import { EXIT } from '../exit.ts';
import { addRequestOptions, requestOf, type RequestOptions } from '../request-options.ts';

interface ReadOptions extends RequestOptions {
  before?: string;
  json?: true;
}

export function addReadCommand(program: Command): void {
  const command = program
    .command('read')
    .description('read one photo: rings, marks, score, groups and what they say about the bow')
    .argument('<photo>', 'JPEG, PNG, WebP or HEIC')
    .option('--before <photo>', 'the same face before this end was shot');
  addRequestOptions(command).option('--json', 'print the reading as JSON').action(read);
}

async function read(photo: string, options: ReadOptions): Promise<void> {
  const request = requestOf(options);
  const reader = loadPhotoReader();
  const { face } = request;
  const outcome = await readJob(
    {
      photo: { path: callerPath(photo) },
      ...(options.before === undefined ? {} : { before: { path: callerPath(options.before) } }),
      request,
      sizes: await rememberedSizes(),
    },
    reader,
  );
  if (outcome.ok && face !== 'auto') await rememberSize(face).catch(() => undefined);
  if (options.json) process.stdout.write(JSON.stringify({ photo, ...outcome }) + '\n');
  if (!outcome.ok) {
    process.stderr.write(`endwise: ${outcome.error.message}\n`);
    process.exitCode = EXIT.unreadable;
    return;
  }
  if (!options.json) {
    const { readingReport } = await import('../reading-report.ts');
    process.stdout.write(readingReport(outcome.reading));
  }
}
