import { ENGLISH, type Words } from '../../../src/words/words.ts';
import { addLanguageOptions, wordsFor, type LanguageOptions } from '../options/language-options.ts';
import { Option, type Command } from 'commander';
import { PAPERS, type Paper } from '../../../src/drawing/print-page.ts';
import type { SetUp } from '../../../src/tuning/bow/set-up.ts';
import type { LogOfBow } from '../../log/log.ts';
import { chosenBow, chosenSetUp } from '../options/chosen-of-log.ts';
import { UsageError } from '../terminal/exit.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { print } from '../terminal/print.ts';
import { withLog } from '../options/with-log.ts';
import { formOf, writeResult } from '../terminal/write-result.ts';

interface SetUpsOptions extends LogOptions, LanguageOptions {
  bow?: string;
  restore?: string;
  out?: string;
  paper?: Paper;
  json?: true;
}

export function addSetUpsCommand(program: Command): void {
  const command = program
    .command('setups')
    .description("a bow's set-ups, what changed between them and how each shot")
    .option('--bow <bow>', 'id or name; not needed where there is one')
    .option('--restore <set-up>', 'how to put the bow back to this one')
    .option(
      '--out <file>',
      'a picture (.svg, .png) or a table (.csv); with --restore a sheet to print (.html)',
    )
    .addOption(
      new Option('--paper <size>', 'of the sheet to print').choices(PAPERS).default('A4' as const),
    )
    .option('--json', 'print as JSON')
    .addOption(databaseOption())
    .action(setUps);
  addLanguageOptions(command);
}

async function setUps(options: SetUpsOptions): Promise<void> {
  const { out } = options;
  const form =
    out === undefined
      ? null
      : formOf(out, options.restore === undefined ? ['svg', 'png', 'csv'] : ['html']);
  await withLog(options, async (log) => {
    const bowLog = await log.bowLog((await chosenBow(log, options.bow)).id);
    if (options.restore !== undefined) {
      const words = form === null ? ENGLISH : await wordsFor(options);
      const sheet = await restored(bowLog, options.restore, words);
      if (form === 'html') {
        const { restoreSheetPage } = await import('../../../src/drawing/restore-sheet-page.ts');
        await writeResult(out!, form, {
          html: () => restoreSheetPage(sheet, options.paper, words),
        });
      } else if (options.json) print(JSON.stringify(sheet));
      else {
        print(`${sheet.title}`, `${sheet.bow}, ${sheet.hand}-handed, ${sheet.date.slice(0, 10)}`);
        print('', ...sheet.values.map(({ name, reading }) => `${name.padEnd(24)} ${reading}`));
        print('', ...sheet.work.map((step, index) => `${index + 1}. ${step}`));
        print('', ...sheet.cautions.map((caution) => `! ${caution}`));
      }
      return;
    }
    if (form !== null) {
      await writeBook(out!, form, bowLog, await wordsFor(options));
      return;
    }
    if (options.json) {
      print(JSON.stringify({ bow: bowLog.bow, setUps: bowLog.setUps }));
      return;
    }
    for (const { setUp, changes } of await withChanges(bowLog, ENGLISH)) {
      print(`${setUp.date.slice(0, 10)}  ${setUp.name}  (${setUp.id})`);
      print(...changes.map((change) => `            ${change}`));
    }
  });
}

async function restored({ bow, setUps: all }: LogOfBow, named: string, words: Words) {
  const { restoreSheet } = await import('../../../src/tuning/bow/restore-sheet.ts');
  return restoreSheet(bow, chosenSetUp(all, named), all.at(-1), words);
}

async function writeBook(
  out: string,
  form: 'svg' | 'png' | 'csv' | 'html',
  bowLog: LogOfBow,
  words: Words,
): Promise<void> {
  const { bow, setUps: all } = bowLog;
  if (all.length === 0) throw new UsageError(`${bow.name} has no set-up yet: keep one first.`);
  const [{ setUpFigures }, { trendEnds }, { drawSetUps }, { setUpsCsv }, rows] = await Promise.all([
    import('../../../src/trends/set-up-figures.ts'),
    import('../../../src/trends/trend-ends.ts'),
    import('../../../src/drawing/draw-set-ups.ts'),
    import('../../../src/tables/trend-csv.ts'),
    withChanges(bowLog, words),
  ]);
  const figures = setUpFigures(
    trendEnds(bowLog),
    all.map(({ id }) => id),
  );
  await writeResult(out, form, {
    csv: () => setUpsCsv(bow, all, figures),
    svg: () =>
      drawSetUps(
        rows.map(({ setUp: { id, name, date }, changes }) => ({ id, name, date, changes })),
        figures,
        { words },
      ),
  });
}

/** Set-ups oldest first, each with what differs from the one before, in words. */
async function withChanges(
  { bow, setUps: all }: LogOfBow,
  words: Words,
): Promise<{ setUp: SetUp; changes: string[] }[]> {
  // prettier-ignore
  const { setUpDifference } = await import('../../../src/tuning/bow/set-up-difference.ts');
  return all.map((setUp, index) => {
    const before = all[index - 1];
    const changes = before ? setUpDifference(bow, before, setUp, words) : [];
    return {
      setUp,
      changes: changes.map((change) =>
        words.say('{what}: {how}', { what: change.name, how: change.words }),
      ),
    };
  });
}
