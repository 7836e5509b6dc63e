import type { Command } from 'commander';
import type { SetUp } from '../../../src/tuning/set-up.ts';
import { callerPath } from '../caller-path.ts';
import { UsageError } from '../exit.ts';
import { chosenBow, withLog } from '../with-log.ts';

interface BowOptions {
  bow?: string;
  json?: true;
}

/** The commands that read a person's own log: set-ups, trends, comparison, export and import. */
export function addLogCommands(program: Command): void {
  program
    .command('setups')
    .description("a bow's set-ups and what changed between them")
    .option('--bow <bow>', 'id or name; not needed where there is one')
    .option('--restore <set-up>', 'print how to put the bow back to this one')
    .option('--json', 'print as JSON')
    .action(setUps);
  program
    .command('trend')
    .description('spread against distance, sessions over time, and what the log says of the bow')
    .option('--bow <bow>', 'id or name; not needed where there is one')
    .option('--json', 'print as JSON')
    .option('--csv', 'print the sessions as CSV')
    .action(trend);
  program
    .command('compare')
    .description('which of two set-ups scores better, and how sure that is')
    .argument('<first>', 'id or name of a set-up')
    .argument('<second>', 'id or name of a set-up')
    .option('--bow <bow>', 'id or name; not needed where there is one')
    .option('--json', 'print as JSON')
    .action(compare);
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

async function setUps(options: BowOptions & { restore?: string }): Promise<void> {
  await withLog(async (log) => {
    const bow = await chosenBow(log, options.bow);
    const all = await log.setUps(bow.id);
    const { setUpDifference } = await import('../../../src/tuning/set-up-difference.ts');
    if (options.restore !== undefined) {
      const { restoreSheet } = await import('../../../src/tuning/restore-sheet.ts');
      const sheet = restoreSheet(bow, chosenSetUp(all, options.restore), all.at(-1));
      if (options.json) print(JSON.stringify(sheet));
      else {
        print(`${sheet.title}`, `${sheet.bow}, ${sheet.hand}-handed, ${sheet.date.slice(0, 10)}`);
        print('', ...sheet.values.map(({ name, reading }) => `${name.padEnd(24)} ${reading}`));
        print('', ...sheet.work.map((step, index) => `${index + 1}. ${step}`));
        print('', ...sheet.cautions.map((caution) => `! ${caution}`));
      }
      return;
    }
    if (options.json) {
      print(JSON.stringify({ bow, setUps: all }));
      return;
    }
    all.forEach((setUp, index) => {
      print(`${setUp.date.slice(0, 10)}  ${setUp.name}  (${setUp.id})`);
      const before = all[index - 1];
      const changes = before ? setUpDifference(bow, before, setUp) : [];
      print(...changes.map(({ name, words }) => `            ${name}: ${words}`));
    });
  });
}

async function trend(options: BowOptions & { csv?: true }): Promise<void> {
  await withLog(async (log) => {
    const bow = await chosenBow(log, options.bow);
    const { readBow } = await import('../../log/read-bow.ts');
    const reading = readBow(await log.bowLog(bow.id));
    if (options.json) {
      print(JSON.stringify(reading));
      return;
    }
    if (options.csv) {
      const { stringify } = await import('csv-stringify/sync');
      const rows = reading.timeline.points.map((point) => ({
        at: point.at,
        distance_m: point.distanceM,
        arrows: point.arrows,
        average: point.average,
        spread_mrad: point.spread?.sigmaMrad,
        offset_right_mrad: point.offset?.mrad[0],
        offset_up_mrad: point.offset?.mrad[1],
        set_ups: point.setUpIds.join(' '),
      }));
      print(stringify(rows, { header: true, escape_formulas: true }).trimEnd());
      return;
    }
    print(`${bow.name}: ${reading.timeline.points.length} sessions`, '');
    print('date        distance  arrows  average  spread mrad  offset mrad');
    for (const point of reading.timeline.points) {
      const offset = point.offset ? point.offset.mrad.map((x) => x.toFixed(1)).join(', ') : '-';
      print(
        `${point.at.slice(0, 10)}  ${`${point.distanceM} m`.padStart(8)}  ` +
          `${String(point.arrows).padStart(6)}  ${(point.average?.toFixed(2) ?? '-').padStart(7)}  ` +
          `${(point.spread?.sigmaMrad.toFixed(2) ?? '-').padStart(11)}  ${offset}`,
      );
    }
    print('', reading.spread.meaning, reading.walkBack.meaning);
    for (const proposal of reading.response?.proposals ?? []) {
      print('', `${proposal.name}: ${proposal.words}`, `   ${proposal.reason}`);
    }
  });
}

async function compare(first: string, second: string, options: BowOptions): Promise<void> {
  await withLog(async (log) => {
    const bow = await chosenBow(log, options.bow);
    const bowLog = await log.bowLog(bow.id);
    const [a, b] = [chosenSetUp(bowLog.setUps, first), chosenSetUp(bowLog.setUps, second)];
    const { compareSetUps } = await import('../../../src/trends/compare-set-ups.ts');
    const { trendEnds } = await import('../../../src/trends/trend-ends.ts');
    const comparison = compareSetUps(trendEnds(bowLog), a.id, b.id);
    if (options.json) print(JSON.stringify(comparison));
    else {
      print(`First:  ${a.name}, ${comparison.first.arrows} arrows`);
      print(`Second: ${b.name}, ${comparison.second.arrows} arrows`);
      print(comparison.summary);
    }
  });
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

/** By id, or by a name that only one set-up has. */
function chosenSetUp(setUps: readonly SetUp[], named: string): SetUp {
  const found = setUps.filter((setUp) => setUp.id === named);
  if (found.length === 0) found.push(...setUps.filter((setUp) => setUp.name === named));
  if (found.length === 1) return found[0]!;
  const list = setUps.map((setUp) => `${setUp.id} (${setUp.name})`).join(', ');
  throw new UsageError(`Name one set-up by its id: ${list || 'the bow has none yet'}.`);
}

function print(...lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(line + '\n');
}
