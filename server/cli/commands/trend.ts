import type { Words } from '../../../src/words/words.ts';
import { addLanguageOptions, wordsFor, type LanguageOptions } from '../options/language-options.ts';
import type { Command } from 'commander';
import { Option } from 'commander';
import type { ArrowPlaces } from '../../../src/trends/arrow-places.ts';
import type { SpreadAgainstDistance } from '../../../src/trends/spread-against-distance.ts';
import type { LogOfBow } from '../../log/log.ts';
import type { BowReading } from '../../log/read-bow.ts';
import { chosenBow } from '../options/chosen-of-log.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { print } from '../terminal/print.ts';
import { withLog } from '../options/with-log.ts';
import { formOf, writeResult, type Forms } from '../terminal/write-result.ts';

const PICTURES = ['time', 'distance', 'walk-back', 'arrows', 'bare-shafts'] as const;

interface TrendOptions extends LogOptions, LanguageOptions {
  bow?: string;
  of: (typeof PICTURES)[number];
  out?: string;
  json?: true;
}

export function addTrendCommand(program: Command): void {
  const command = program
    .command('trend')
    .description('spread against distance, sessions over time, and what the log says of the bow')
    .option('--bow <bow>', 'id or name; not needed where there is one')
    .option('--out <file>', 'write a picture (.svg, .png) or its figures (.csv)')
    .addOption(
      new Option('--of <what>', 'what --out writes: sessions over time, spread against distance, a walk-back series, or numbered arrows or bare shafts one by one') // prettier-ignore
        .choices(PICTURES)
        .default('time'),
    )
    .option('--json', 'print as JSON')
    .addOption(databaseOption())
    .action(trend);
  addLanguageOptions(command);
}

async function trend(options: TrendOptions): Promise<void> {
  const { out } = options;
  const form = out === undefined ? null : formOf(out, ['svg', 'png', 'csv']);
  await withLog(options, async (log) => {
    const bow = await chosenBow(log, options.bow);
    const { readBow } = await import('../../log/read-bow.ts');
    const bowLog = await log.bowLog(bow.id);
    const reading = readBow(bowLog);
    if (form !== null) {
      await writeResult(
        out!,
        form,
        await FORMS_OF[options.of](bowLog, reading, await wordsFor(options)),
      );
      return;
    }
    if (options.json) {
      print(JSON.stringify(reading));
      return;
    }
    print(`${bow.name}: ${reading.timeline.points.length} sessions`, '');
    print('date        distance  arrows  average  spread mrad  offset mrad');
    for (const point of reading.timeline.points) {
      const offset = point.offset ? point.offset.mrad.map((x) => x.toFixed(1)).join(', ') : '-';
      print(
        `${point.at.slice(0, 10)}  ${(point.distanceM === null ? '-' : `${point.distanceM} m`).padStart(8)}  ` +
          `${String(point.arrows).padStart(6)}  ${(point.average?.toFixed(2) ?? '-').padStart(7)}  ` +
          `${(point.spread?.sigmaMrad.toFixed(2) ?? '-').padStart(11)}  ${offset}`,
      );
    }
    print('', reading.spread.meaning, reading.walkBack.meaning);
    if (reading.withoutDistance !== null) print(reading.withoutDistance);
    for (const places of reading.arrows) printArrows(places);
    for (const proposal of reading.response?.proposals ?? []) {
      print('', `${proposal.name}: ${proposal.words}`, `   ${proposal.reason}`);
    }
  });
}

/** Nothing where no shaft of the kind was ever numbered. */
function printArrows({ arrows, ends, kind, distanceM, meaning, cautions }: ArrowPlaces): void {
  if (ends === 0) return;
  print('');
  if (arrows.length > 0) {
    const at = `mm at ${distanceM} m`;
    print(`${kind === 'bare' ? 'bare' : 'arrow'}  shots    right       up   90 % (${at})`);
  }
  for (const arrow of arrows) {
    const mm = (mrad: number, width: number) => (mrad * distanceM!).toFixed(0).padStart(width);
    print(
      `${arrow.arrowNumber.padStart(5)}  ${String(arrow.shots).padStart(5)} ${mm(arrow.mrad[0], 8)} ${mm(arrow.mrad[1], 8)}   ± ${mm(arrow.half90Mrad, 1)}  ${arrow.verdict}`,
    );
  }
  print(meaning, ...cautions);
}

async function formsOfArrows(places: ArrowPlaces, words: Words): Promise<Forms> {
  const { drawArrowPlaces } = await import('../../../src/drawing/draw-arrow-places.ts');
  const { arrowPlacesCsv } = await import('../../../src/tables/trend-csv.ts');
  return { svg: () => drawArrowPlaces(places, { words }), csv: () => arrowPlacesCsv([places]) };
}

const FORMS_OF: Record<
  TrendOptions['of'],
  (bowLog: LogOfBow, reading: BowReading, words: Words) => Promise<Forms>
> = {
  time: async ({ setUps }, { timeline }, words) => {
    const { drawTimeline } = await import('../../../src/drawing/draw-timeline.ts');
    const { timelineCsv } = await import('../../../src/tables/trend-csv.ts');
    const names = Object.fromEntries(setUps.map(({ id, name }) => [id, name]));
    return {
      svg: () => drawTimeline(timeline, names, { words }),
      csv: () => timelineCsv(timeline, names),
    };
  },
  distance: async (bowLog, _reading, words) => {
    const { drawSpreadAgainstDistance } =
      await import('../../../src/drawing/draw-spread-against-distance.ts');
    const { spreadCsv } = await import('../../../src/tables/trend-csv.ts');
    const series = await spreadOfSetUps(bowLog);
    return {
      svg: () => drawSpreadAgainstDistance(series, { words }),
      csv: () => spreadCsv(series),
    };
  },
  'walk-back': async (_bowLog, { walkBack }, words) => {
    const { drawWalkBack } = await import('../../../src/drawing/draw-walk-back.ts');
    const { walkBackCsv } = await import('../../../src/tables/trend-csv.ts');
    return { svg: () => drawWalkBack(walkBack, { words }), csv: () => walkBackCsv(walkBack) };
  },
  arrows: (_bowLog, { arrows: [fletched] }, words) => formsOfArrows(fletched, words),
  'bare-shafts': (_bowLog, { arrows: [, bare] }, words) => formsOfArrows(bare, words),
};

async function spreadOfSetUps(
  bowLog: LogOfBow,
): Promise<{ name: string; trend: SpreadAgainstDistance }[]> {
  const { spreadAgainstDistance } = await import('../../../src/trends/spread-against-distance.ts');
  const { trendEnds } = await import('../../../src/trends/trend-ends.ts');
  const ends = trendEnds(bowLog);
  return bowLog.setUps
    .map(({ id, name }) => ({
      name,
      trend: spreadAgainstDistance(ends.filter((end) => end.setUpId === id)),
    }))
    .filter(({ trend: { points } }) => points.length > 0);
}
