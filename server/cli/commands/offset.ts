import { readFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { callerPath } from '../terminal/caller-path.ts';
import { UsageError } from '../terminal/exit.ts';

export function addOffsetCommand(program: Command): void {
  program
    .command('offset')
    .description('group statistics and bare-shaft offset from typed-in positions')
    .argument('<end>', 'END.json: hand, distanceM, marks with mm and kind')
    .option('--json', 'print groups and tuning as JSON')
    .action(offset);
}

async function offset(path: string, options: { json?: true }): Promise<void> {
  const { issueSentence } = await import('../../reading/issue-sentence.ts');
  const { offsetOfEnd, typedEndSchema } = await import('../../reading/offset-of-end.ts');
  const end = typedEndSchema.safeParse(await jsonFile(path));
  if (!end.success) throw new UsageError(issueSentence(end.error, (field) => `${path}, ${field}`));
  const result = offsetOfEnd(end.data);
  if (options.json) {
    process.stdout.write(JSON.stringify(result) + '\n');
    return;
  }
  const { tuningReport } = await import('../terminal/tuning-report.ts');
  process.stdout.write(tuningReport(result.groups, result.tuning));
}

async function jsonFile(path: string): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(callerPath(path), 'utf8');
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const why = code === 'ENOENT' ? 'does not exist' : code === 'EISDIR' ? 'is a folder' : code;
    throw new UsageError(`${path} ${why ?? 'cannot be opened'}.`);
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new UsageError(`${path} is not JSON: ${(error as Error).message}`);
  }
}
