import type { Command } from 'commander';
import { readingRequestSchema } from '../../../src/reading/request.ts';
import { rememberedSizes, rememberSize } from '../../log/remembered-sizes.ts';
import { loadPhotoReader } from '../../reading/load-photo-reader.ts';
import { readJob } from '../../reading/read-job.ts';
import { issueSentence } from '../../reading/issue-sentence.ts';
import { callerPath } from '../caller-path.ts';
import { EXIT, UsageError } from '../exit.ts';

interface ReadOptions {
  before?: string;
  face?: string;
  shaft?: string;
  fletched?: string;
  bare?: string;
  hand?: string;
  distance?: string;
  json?: true;
}

const OPTION_OF: Record<string, string> = { shaftMm: '--shaft', distanceM: '--distance' };

export function addReadCommand(program: Command): void {
  program
    .command('read')
    .description('read one photo: rings, marks, score, groups and what they say about the bow')
    .argument('<photo>', 'JPEG, PNG, WebP or HEIC')
    .option('--before <photo>', 'the same face before this end was shot')
    .option('--face <id>', 'printed face, or auto (wa122, wa80, wa80-6, wa60, wa40, ...)')
    .option('--shaft <mm>', 'diameter of the shafts, mm')
    .option('--fletched <n>', 'fletched arrows shot in this end')
    .option('--bare <n>', 'bare shafts shot in this end')
    .option('--hand <hand>', 'right or left')
    .option('--distance <m>', 'shooting distance, m')
    .option('--json', 'print the reading as JSON')
    .action(read);
}

async function read(photo: string, options: ReadOptions): Promise<void> {
  const request = readingRequestSchema.safeParse({
    face: options.face,
    shaftMm: asNumber(options.shaft),
    fletched: asNumber(options.fletched),
    bare: asNumber(options.bare),
    hand: options.hand,
    distanceM: asNumber(options.distance),
  });
  if (!request.success) {
    throw new UsageError(issueSentence(request.error, (field) => OPTION_OF[field] ?? `--${field}`));
  }
  const reader = loadPhotoReader();
  const { face } = request.data;
  const outcome = await readJob(
    {
      photo: { path: callerPath(photo) },
      ...(options.before === undefined ? {} : { before: { path: callerPath(options.before) } }),
      request: request.data,
      sizes: face === 'auto' ? await rememberedSizes() : {},
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

/** Not a number stays so, for the schema to refuse. */
function asNumber(text: string | undefined): number | undefined {
  return text === undefined ? undefined : text.trim() === '' ? NaN : Number(text);
}
