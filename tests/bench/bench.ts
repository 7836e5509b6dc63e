import { parseArgs } from 'node:util';
import { UsageError } from '../../server/cli/terminal/exit.ts';
import { arrowsBench } from './arrows-bench.ts';
import { clubBench } from './club-bench.ts';
import { clubMoveBench } from './club-move-bench.ts';
import { clubQueueBench } from './club-queue-bench.ts';
import { clubRestartBench } from './club-restart-bench.ts';
import { clubTrendsBench } from './club-trends-bench.ts';
import { doubtsBench } from './doubts-bench.ts';
import { evidenceBench } from './evidence-bench.ts';
import { faultsBench } from './faults-bench.ts';
import { fitBench } from './fit-bench.ts';
import { fitsBench } from './fits-bench.ts';
import { growthBench } from './growth-bench.ts';
import { importBench } from './import-bench.ts';
import { comparisonBench, intervalsBench } from './intervals-bench.ts';
import { loadBench } from './load-bench.ts';
import { marksBench } from './marks-bench.ts';
import { memoryBench } from './memory-bench.ts';
import { oddsBench } from './odds-bench.ts';
import { pageBench } from './page-bench.ts';
import { poolBench } from './pool-bench.ts';
import { profileBench } from './profile-bench.ts';
import { promiseBench } from './promise-bench.ts';
import { readingBench } from './reading-bench.ts';
import { standingBench } from './standing-bench.ts';
import { stagesBench } from './stages-bench.ts';
import { startBench } from './start-bench.ts';
import { unsaidBench } from './unsaid-bench.ts';
import { tuningTable } from './tuning-table.ts';

/*
 * npm run bench -- [PART ...] [--photos FOLDER] [--only PREFIX] [--results FILE.jsonl]
 * npm run bench -- standing [--photos FOLDER | --seed N]
 * npm run bench -- odds [--photos FOLDER | --seed N]
 * npm run bench -- fits [--seed N] [--count N] [--photos FOLDER]
 * npm run bench -- memory [--count N] [--photos FOLDER] [--only PREFIX]
 * npm run bench -- tuning [--seed N] [--histories N] [--population NAME]
 * npm run bench -- unsaid [--seed N] [--ends N]
 * npm run bench -- doubts [--seed N] [--histories N] [--ends N]
 * npm run bench -- promises [--seed N] [--ends N]
 * npm run bench -- intervals [--seed N] [--runs N] [--only NAME]
 * npm run bench -- comparison [--seed N] [--runs N]
 * npm run bench -- arrows [--seed N] [--runs N]
 * npm run bench -- faults [--kills N] [--disks N] [--damages N] [--seed N]
 * npm run bench -- club [--uploads N] [--seconds N] [--kills N] [--megapixels N] [--seed N]
 * npm run bench -- club-queue [--count N] [--megapixels N]
 * npm run bench -- club-restart [--uploads N] [--runs N]
 * npm run bench -- club-trends [--ends N]
 * npm run bench -- club-move [--ends N] [--of-photos N]
 * Without a PART, all of them run.
 */
const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    photos: { type: 'string' },
    only: { type: 'string' },
    results: { type: 'string' },
    seed: { type: 'string' },
    count: { type: 'string' },
    histories: { type: 'string' },
    ends: { type: 'string' },
    population: { type: 'string' },
    runs: { type: 'string' },
    kills: { type: 'string' },
    uploads: { type: 'string' },
    seconds: { type: 'string' },
    megapixels: { type: 'string' },
    disks: { type: 'string' },
    damages: { type: 'string' },
    'of-photos': { type: 'string' },
  },
});

const photos = {
  ...(values.photos === undefined ? {} : { folder: values.photos }),
  ...(values.only === undefined ? {} : { only: values.only }),
};

const parts: Record<string, () => Promise<void> | void> = {
  readings: () =>
    readingBench({
      ...photos,
      ...(values.results === undefined ? {} : { resultsFile: values.results }),
    }),
  fit: () => fitBench(photos),
  fits: () =>
    fitsBench({
      ...(values.photos === undefined ? {} : { folder: values.photos }),
      ...(values.seed === undefined ? {} : { firstSeed: Number(values.seed) }),
      ...(values.count === undefined ? {} : { count: Number(values.count) }),
    }),
  evidence: () => evidenceBench(photos),
  marks: () => marksBench(photos),
  standing: () =>
    standingBench({
      ...photos,
      ...(values.seed === undefined ? {} : { firstSeed: Number(values.seed) }),
    }),
  odds: () =>
    oddsBench({
      ...(values.photos === undefined ? {} : { folder: values.photos }),
      ...(values.seed === undefined ? {} : { firstSeed: Number(values.seed) }),
    }),
  stages: () => stagesBench(photos),
  start: () => startBench(),
  growth: () => growthBench(photos),
  memory: () =>
    memoryBench({
      ...photos,
      ...(values.count === undefined ? {} : { readings: Number(values.count) }),
    }),
  profile: () => profileBench(),
  pool: () => poolBench({ folder: values.photos }),
  load: () => loadBench(),
  import: () => importBench(),
  page: () => pageBench(),
  tuning: () => tuningTable(values),
  unsaid: () =>
    unsaidBench({
      ...(values.ends === undefined ? {} : { ends: Number(values.ends) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  doubts: () =>
    doubtsBench({
      ...(values.histories === undefined ? {} : { histories: Number(values.histories) }),
      ...(values.ends === undefined ? {} : { ends: Number(values.ends) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  promises: () =>
    promiseBench({
      ...(values.ends === undefined ? {} : { ends: Number(values.ends) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  intervals: () =>
    intervalsBench({
      only: values.only,
      ...(values.runs === undefined ? {} : { draws: Number(values.runs) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  comparison: () =>
    comparisonBench({
      ...(values.runs === undefined ? {} : { draws: Number(values.runs) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  arrows: () =>
    arrowsBench({
      ...(values.runs === undefined ? {} : { runs: Number(values.runs) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  faults: () => faultsBench(values),
  club: () =>
    clubBench({
      ...(values.uploads === undefined ? {} : { uploads: Number(values.uploads) }),
      ...(values.seconds === undefined ? {} : { seconds: Number(values.seconds) }),
      ...(values.kills === undefined ? {} : { kills: Number(values.kills) }),
      ...(values.megapixels === undefined ? {} : { megapixels: Number(values.megapixels) }),
      ...(values.seed === undefined ? {} : { seed: Number(values.seed) }),
    }),
  'club-queue': () =>
    clubQueueBench({
      ...(values.megapixels === undefined ? {} : { megapixels: Number(values.megapixels) }),
      ...(values.count === undefined ? {} : { photos: Number(values.count) }),
    }),
  'club-restart': () =>
    clubRestartBench({
      ...(values.uploads === undefined ? {} : { uploads: Number(values.uploads) }),
      ...(values.runs === undefined ? {} : { restarts: Number(values.runs) }),
    }),
  'club-trends': () =>
    clubTrendsBench(values.ends === undefined ? {} : { ends: Number(values.ends) }),
  'club-move': () =>
    clubMoveBench({
      ...(values.ends === undefined ? {} : { ends: Number(values.ends) }),
      ...(values['of-photos'] === undefined ? {} : { photos: Number(values['of-photos']) }),
    }),
};

const unknown = positionals.filter((name) => !(name in parts));
if (unknown.length > 0) {
  console.error(`No such part: ${unknown.join(', ')}. Parts: ${Object.keys(parts).join(', ')}.`);
  process.exit(2);
}
try {
  for (const [name, run] of Object.entries(parts)) {
    if (positionals.length === 0 || positionals.includes(name)) await run();
  }
} catch (error) {
  if (!(error instanceof UsageError)) throw error;
  console.error(error.message);
  process.exit(2);
}
