import { addLanguageOptions, wordsFor, type LanguageOptions } from '../options/language-options.ts';
import type { Command } from 'commander';
import { chosenBow, chosenSetUp } from '../options/chosen-of-log.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { print } from '../terminal/print.ts';
import { withLog } from '../options/with-log.ts';
import { formOf, writeResult } from '../terminal/write-result.ts';

interface CompareOptions extends LogOptions, LanguageOptions {
  bow?: string;
  out?: string;
  json?: true;
}

export function addCompareCommand(program: Command): void {
  const command = program
    .command('compare')
    .description('which of two set-ups scores better, and how sure that is')
    .argument('<first>', 'id or name of a set-up')
    .argument('<second>', 'id or name of a set-up')
    .option('--bow <bow>', 'id or name; not needed where there is one')
    .option('--out <file>', 'write a picture (.svg, .png) or its figures (.csv)')
    .option('--json', 'print as JSON')
    .addOption(databaseOption())
    .action(compare);
  addLanguageOptions(command);
}

async function compare(first: string, second: string, options: CompareOptions): Promise<void> {
  const { out } = options;
  const form = out === undefined ? null : formOf(out, ['svg', 'png', 'csv']);
  await withLog(options, async (log) => {
    const bow = await chosenBow(log, options.bow);
    const bowLog = await log.bowLog(bow.id);
    const [a, b] = [chosenSetUp(bowLog.setUps, first), chosenSetUp(bowLog.setUps, second)];
    const { compareSetUps } = await import('../../../src/trends/compare-set-ups.ts');
    const { scoredEnds, trendEnds, withoutDistanceWords } =
      await import('../../../src/trends/trend-ends.ts');
    const leftOut = withoutDistanceWords(scoredEnds(bowLog));
    const comparison = compareSetUps(trendEnds(bowLog), a.id, b.id);
    if (form !== null) {
      const { drawComparison } = await import('../../../src/drawing/draw-comparison.ts');
      const { comparisonCsv } = await import('../../../src/tables/trend-csv.ts');
      const names = { first: a.name, second: b.name };
      const words = await wordsFor(options);
      const said = compareSetUps(trendEnds(bowLog), a.id, b.id, words);
      await writeResult(out!, form, {
        svg: () => drawComparison(said, names, { words }),
        csv: () => comparisonCsv(comparison, names),
      });
    } else if (options.json) print(JSON.stringify(comparison));
    else {
      print(`First:  ${a.name}, ${comparison.first.arrows} arrows`);
      print(`Second: ${b.name}, ${comparison.second.arrows} arrows`);
      print(comparison.summary);
      if (leftOut !== null) print(leftOut);
    }
  });
}
