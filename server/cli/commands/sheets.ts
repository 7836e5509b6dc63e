import { addLanguageOptions, wordsFor, type LanguageOptions } from '../options/language-options.ts';
import { createReadStream } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Command } from 'commander';
import type { EveningLine } from '../../../src/evening/evening-line.ts';
import { callerPath } from '../terminal/caller-path.ts';
import { EXIT, UsageError } from '../terminal/exit.ts';

/** Sheets and tables of a batch: what `batch` wrote, laid out for people. */
export function addSheetsCommand(program: Command): void {
  const command = program
    .command('sheets')
    .description('printable sheets and a table of a batch, and what needs a look, worst first')
    .argument('<results>', 'RESULTS.jsonl')
    .requiredOption('--out <folder>', 'where squad.html, one sheet per archer and results.csv go')
    .option('--names <csv>', 'who shot what with which bow: columns photo, archer, bow')
    .action(sheets);
  addLanguageOptions(command);
}

async function sheets(
  results: string,
  options: LanguageOptions & { out: string; names?: string },
): Promise<void> {
  const { eveningSheets } = await import('../../../src/evening/evening-sheets.ts');
  const { eveningCsv } = await import('../../../src/tables/evening-csv.ts');
  const { byNeed } = await import('../../../src/evening/needs-look.ts');
  const lines = await linesOf(callerPath(results));
  if (options.names !== undefined) {
    const { readNames } = await import('../../batch/read-names.ts');
    const names = await readNames(callerPath(options.names)).catch((error: unknown) => {
      throw new UsageError((error as Error).message);
    });
    for (const line of lines) Object.assign(line, names.get(line.photo));
  }
  const folder = callerPath(options.out);
  const made = eveningSheets(lines, { words: await wordsFor(options) });
  try {
    await mkdir(folder, { recursive: true });
    for (const sheet of made) await writeFile(join(folder, sheet.file), sheet.html);
    await writeFile(join(folder, 'results.csv'), eveningCsv([...lines].sort(byNeed)));
  } catch (error) {
    throw new UsageError(`${options.out} cannot be written: ${(error as Error).message}`);
  }
  const look = lines.filter((line) => line.look.needed).sort(byNeed);
  for (const line of look) process.stdout.write(`${line.photo}: ${line.look.reasons.join('; ')}\n`);
  process.stderr.write(
    `endwise: ${made.length} sheets of ${lines.length} photos; ${look.length} need a look.\n`,
  );
  if (lines.every((line) => !line.ok)) process.exitCode = EXIT.unreadable;
}

async function linesOf(path: string): Promise<EveningLine[]> {
  const { eveningLineSchema } = await import('../../../src/evening/evening-line.ts');
  const lines: EveningLine[] = [];
  try {
    for await (const text of createInterface({
      input: createReadStream(path),
      crlfDelay: Infinity,
    })) {
      if (text.trim() !== '') lines.push(eveningLineSchema.parse(JSON.parse(text)));
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') {
      throw new UsageError(`The results file ${path} does not exist.`);
    }
    throw new UsageError(
      `Line ${lines.length + 1} of ${path} is no result of endwise: name a file that batch wrote.`,
    );
  }
  if (lines.length === 0) throw new UsageError(`The results file ${path} is empty.`);
  return lines;
}
