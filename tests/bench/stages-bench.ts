import { existsSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { decodePhoto } from '../../server/decode/decode-photo.ts';
import { networksInThread } from '../../server/reading/networks-in-thread.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import { findMarks } from '../../src/marks/find-marks.ts';
import type { Networks } from '../../src/marks/network/networks.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { quantile } from '../measure/quantile.ts';
import { truthsIn, type Truth } from '../measure/truth.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';

export interface StagesBenchOptions {
  readonly folder?: string;
  readonly only?: string;
}

/** What phones take. */
const MEGAPIXELS = 12;
const ROUNDS = 8;
/** Photos of each category. */
const EACH = 2;

const STAGES = ['decode', 'fit', 'marks', 'network', 'whole', 'processor'] as const;
type StageTimes = Record<(typeof STAGES)[number], number>;

/** What is held against the decoding alone. */
const AGAINST_DECODING = ['fit', 'whole'] as const;

/**
 * Time of the stages on photos of 12 MP, warm, in one process: of each the median and the least of
 * several rounds, and fit and whole beside the decoding alone. `network` is a part of `marks`: how long
 * answers of the networks stood out, which run beside as for a single reading. `processor` is the time of
 * all threads together, which what else the machine is at moves less. Smaller photos are enlarged; they hold less detail for their size and so decode faster than large ones do. Where
 * an enlarged one is refused, it says so and counts for nothing.
 */
export async function stagesBench(options: StagesBenchOptions = {}): Promise<void> {
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const { cv } = await loadOpenCv();
  const networks = (await networksInThread(availableParallelism()))!;
  const rows: Record<string, object> = {};
  const ratios: StageTimes[] = [];
  for (const truth of await chosen(folder, options.only ?? '')) {
    const { bytes, from } = await enlarged(join(folder, truth.photo));
    try {
      const rounds: StageTimes[] = [];
      for (let i = 0; i < ROUNDS; i++) rounds.push(await timedRound(bytes, truth, cv, networks));
      const medians = stagesOf((stage) => quantileOf(rounds, stage, 0.5));
      const against = stagesOf((stage) => medians[stage] / medians.decode);
      rows[truth.photo] = { 'MP of its own': from.toFixed(1), ...row(rounds), ...shown(against) };
      ratios.push(against);
    } catch (error) {
      if (!(error instanceof ReadingError)) throw error;
      rows[truth.photo] = { 'MP of its own': from.toFixed(1), refused: error.code };
    }
  }
  console.log(`\nSeconds per stage at ${MEGAPIXELS} MP, median (least) of ${ROUNDS}`);
  console.table(rows);
  console.log('\nTimes the decoding alone');
  console.table({
    median: shown(stagesOf((stage) => quantileOf(ratios, stage, 0.5))),
    worst: shown(stagesOf((stage) => quantileOf(ratios, stage, 1))),
  });
}

async function timedRound(
  bytes: Uint8Array,
  truth: Truth,
  cv: OpenCv,
  networks: Networks,
): Promise<StageTimes> {
  let inNetwork = 0;
  let open = 0;
  let since = 0;
  const timed = async <T>(run: () => Promise<T>): Promise<T> => {
    if (open++ === 0) since = performance.now();
    const answer = await run();
    if (--open === 0) inNetwork += performance.now() - since;
    return answer;
  };
  const { marks, entries, rears } = networks;
  const watched: Networks = {
    marks: { ...marks, evidence: (...flat) => timed(() => marks.evidence(...flat)) },
    entries: { ...entries, evidence: (...flat) => timed(() => entries.evidence(...flat)) },
    rears: { ...rears, read: (strip) => timed(() => rears.read(strip)) },
  };
  const before = process.cpuUsage();
  const start = performance.now();
  const { raster, focalPx } = await decodePhoto(bytes);
  const decoded = performance.now();
  const about = { face: truth.face, ...(focalPx === undefined ? {} : { focalPx }) };
  const { fit } = fitFace(raster, about, cv);
  const fitted = performance.now();
  await findMarks(raster, fit, { shaftMm: truth.shaft_mm }, { cv, networks: watched });
  const end = performance.now();
  const { user, system } = process.cpuUsage(before);
  return {
    decode: decoded - start,
    fit: fitted - decoded,
    marks: end - fitted,
    network: inNetwork,
    whole: end - start,
    processor: (user + system) / 1000,
  };
}

/** Some photos of each category, the largest first. */
async function chosen(folder: string, only: string): Promise<Truth[]> {
  const truths = truthsIn(folder).filter(({ photo }) => photo.startsWith(only));
  const sized = await Promise.all(
    truths.map(async (truth) => {
      const { width, height } = await sharp(join(folder, truth.photo)).metadata();
      return { truth, px: width * height };
    }),
  );
  const largest = sized.sort((a, b) => b.px - a.px).map(({ truth }) => truth);
  const categories = [...new Set(truths.map(({ category }) => category))];
  return categories.flatMap((c) => largest.filter(({ category }) => category === c).slice(0, EACH));
}

/** A photo at 12 MP, and how many megapixels it has of its own; one that has as many stays as it is. */
async function enlarged(path: string): Promise<{ bytes: Uint8Array; from: number }> {
  const file = readFileSync(path);
  const photo = sharp(file);
  const { width, height } = await photo.metadata();
  const from = (width * height) / 1e6;
  const scale = Math.sqrt(MEGAPIXELS / from);
  if (scale <= 1) return { bytes: file, from };
  const bytes = await photo
    .resize(Math.round(width * scale), Math.round(height * scale), { kernel: 'cubic' })
    .jpeg({ quality: 90 })
    .toBuffer();
  return { bytes, from };
}

function row(rounds: readonly StageTimes[]): Record<string, string> {
  const seconds = (stage: keyof StageTimes, q: number) =>
    (quantileOf(rounds, stage, q) / 1000).toFixed(2);
  return Object.fromEntries(
    STAGES.map((stage) => [stage, `${seconds(stage, 0.5)} (${seconds(stage, 0)})`]),
  );
}

function shown(against: StageTimes): Record<string, string> {
  return Object.fromEntries(
    AGAINST_DECODING.map((stage) => [`${stage} / decode`, against[stage].toFixed(1)]),
  );
}

function stagesOf(value: (stage: keyof StageTimes) => number): StageTimes {
  return Object.fromEntries(STAGES.map((stage) => [stage, value(stage)])) as StageTimes;
}

function quantileOf(rounds: readonly StageTimes[], stage: keyof StageTimes, q: number): number {
  return quantile(
    rounds.map((round) => round[stage]),
    q,
  );
}
