import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readPhotoFile } from '../../server/decode/read-photo-file.ts';
import { loadNetworks } from '../../server/reading/load-networks.ts';
import { FACES } from '../../src/face/faces.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import { findMarks, type MarkEngine } from '../../src/marks/find-marks.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { scoreMarks } from '../../src/marks/score-marks.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { truthFit, type FitTruth } from '../fit/truth-fit.ts';
import { quantile } from '../measure/quantile.ts';
import { scoreReading, type ReadingScore } from '../measure/score-reading.ts';
import { requestFor, truthsIn, type Truth } from '../measure/truth.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';
import { stockBlobsOnFit, stockPartsMarks } from './stock-parts-marks.ts';

export interface MarksBenchOptions {
  readonly folder?: string;
  /** Only photos whose name begins with this. */
  readonly only?: string;
  /** Whether marks are looked for through the fit of the photo or through the truth's camera. */
  readonly fits?: 'found' | 'true';
}

const ROUTES = ['network', 'hand-made', 'stock blobs, our fit', 'stock parts'] as const;
type Route = (typeof ROUTES)[number];

interface Outcome {
  readonly truth: Truth;
  readonly route: Route;
  readonly score: ReadingScore | null;
  readonly calls: readonly { readonly confidence: number; readonly right: boolean }[];
  /** Processor time of the marks stage: other work on the machine does not count. */
  readonly ms: number;
}

/**
 * Finds marks in every photo of a folder by the network, by the hand-made evidence, by a stock
 * blob detector on the same fit and by stock parts alone, in one run, and prints accuracy by category, calibration and time of the marks stage.
 */
export async function marksBench(options: MarksBenchOptions = {}): Promise<void> {
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const { cv } = await loadOpenCv();
  const networks = await loadNetworks();
  const truths = truthsIn(folder).filter((truth) => truth.photo.startsWith(options.only ?? ''));
  const outcomes: Outcome[] = [];
  for (const truth of truths) {
    const found = await measure(folder, truth, { cv, networks }, options.fits ?? 'found');
    outcomes.push(...found);
    console.log(
      `${truth.photo.padEnd(22)} ${found
        .map(
          ({ route, score, ms }) =>
            `${route}: ${score ? `${score.hit} hit, ${score.missed} missed, ${score.extra} extra` : 'failed'}, ${ms.toFixed(0)} ms`,
        )
        .join('; ')}`,
    );
  }
  console.log(
    `\nMarks of ${truths.length} photos in ${folder}, through ${options.fits ?? 'found'} fits`,
  );
  const categories = [...new Set(truths.map((truth) => truth.category)), 'all'];
  console.table(
    Object.fromEntries(
      ROUTES.flatMap((route) =>
        categories.map((category) => [
          `${category}, ${route}`,
          summary(
            outcomes.filter(
              (o) => o.route === route && (category === 'all' || o.truth.category === category),
            ),
          ),
        ]),
      ),
    ),
  );
  console.log('\nReliability of `confidence` (network route; marks offered as of this end)');
  console.table(reliability(outcomes.filter((o) => o.route === 'network').flatMap((o) => o.calls)));
}

async function measure(
  folder: string,
  truth: Truth,
  { cv, networks }: MarkEngine,
  fits: 'found' | 'true',
): Promise<Outcome[]> {
  const load = async (name: string) => {
    const photo = await readPhotoFile(join(folder, name));
    const fit = fits === 'true' ? trueFit(folder, name) : foundFit(photo, truth, cv);
    return { photo: photo.raster, fit };
  };
  const outcomes: Outcome[] = [];
  const add = async (route: Route, find: () => Promise<Mark[]> | Mark[]) => {
    const start = process.cpuUsage();
    const cpuMs = () => {
      const { user, system } = process.cpuUsage(start);
      return (user + system) / 1000;
    };
    try {
      const marks = await find();
      const ms = cpuMs();
      const reading = asReading(truth, marks);
      const score = scoreReading(truth, reading);
      outcomes.push({ truth, route, score, calls: callsOf(truth, reading), ms });
    } catch {
      outcomes.push({ truth, route, score: null, calls: [], ms: cpuMs() });
    }
  };
  let seen: { photo: Raster; fit: FaceFit } | null = null;
  let before: { photo: Raster; fit: FaceFit } | undefined;
  try {
    seen = await load(truth.photo);
    before = truth.pairOf === null ? undefined : await load(truth.pairOf);
  } catch {
    seen = null;
  }
  const request = requestFor(truth);
  const find = (engine: MarkEngine) => async () => {
    if (!seen) throw new Error('No fit.');
    const { marks } = await findMarks(seen.photo, seen.fit, request, engine, before);
    return marks;
  };
  if (networks) await add('network', find({ cv, networks }));
  await add('hand-made', find({ cv, networks: null }));
  await add('stock blobs, our fit', () => {
    if (!seen) throw new Error('No fit.');
    return stockBlobsOnFit(seen.photo, seen.fit, truth.shaft_mm, cv);
  });
  const { raster } = await readPhotoFile(join(folder, truth.photo));
  await add('stock parts', () => stockPartsMarks(raster, truth.face, cv));
  return outcomes;
}

function trueFit(folder: string, name: string): FaceFit {
  const file = join(folder, name.replace(/jpg$/, 'json'));
  return truthFit(JSON.parse(readFileSync(file, 'utf8')) as FitTruth);
}

function foundFit(
  photo: { readonly raster: Raster; readonly focalPx?: number },
  truth: Truth,
  cv: OpenCv,
): FaceFit {
  const focal = photo.focalPx === undefined ? {} : { focalPx: photo.focalPx };
  return fitFace(photo.raster, { face: truth.face, ...focal }, cv).fit;
}

/** The parts of a reading that marks are scored by. */
function asReading(truth: Truth, marks: readonly Mark[]): Reading {
  const scored = scoreMarks(marks, FACES[truth.face], truth.shaft_mm);
  return {
    face: truth.face,
    fit: {
      residualMm: 0,
      misfitMm: 0,
      tiltDeg: 0,
      spots: [{ centrePx: [0, 0], upPx: [0, -1], rings: [] }],
      notes: [],
    },
    marks: scored.marks,
    score: scored.score,
    groups: null,
    tuning: null,
    warnings: [],
  } as unknown as Reading;
}

/** Whether each mark offered as this end's lies on a true one (within two shafts). */
function callsOf(truth: Truth, reading: Reading): Outcome['calls'] {
  return reading.marks
    .filter((mark) => mark.age === 'fresh')
    .map((mark) => ({
      confidence: mark.confidence,
      right: truth.shots.some(
        (shot) =>
          shot.spot === mark.spot &&
          Math.hypot(shot.spot_mm[0] - mark.mm[0], shot.spot_mm[1] - mark.mm[1]) <
            2 * shot.shaft_mm,
      ),
    }));
}

function summary(outcomes: readonly Outcome[]) {
  const scores = outcomes.flatMap((o) => (o.score ? [o.score] : []));
  const sum = (get: (score: ReadingScore) => number) => scores.reduce((n, s) => n + get(s), 0);
  const hit = sum((s) => s.hit);
  const missed =
    sum((s) => s.missed) +
    outcomes.filter((o) => !o.score).reduce((n, o) => n + o.truth.shots.length, 0);
  const extra = sum((s) => s.extra);
  const errors = scores.flatMap((s) => s.errorsMm);
  const normalised = scores.flatMap((s) => s.normalised);
  const offsets = scores.flatMap((s) => (s.offsetMm === null ? [] : [s.offsetMm]));
  return {
    photos: outcomes.length,
    precision: round(hit / Math.max(1, hit + extra), 3),
    recall: round(hit / Math.max(1, hit + missed), 3),
    medianMm: round(quantile(errors, 0.5), 2),
    p95Mm: round(quantile(errors, 0.95), 2),
    zoneRight: round(
      sum((s) => s.clearRight) /
        Math.max(
          1,
          sum((s) => s.clear),
        ),
      3,
    ),
    kindRight: round(
      sum((s) => s.tagRight) /
        Math.max(
          1,
          sum((s) => s.tagged),
        ),
      2,
    ),
    offsetMm: round(quantile(offsets, 0.5), 2),
    errorInSd: round(robustSd(normalised), 2),
    ms: round(
      quantile(
        outcomes.map((o) => o.ms),
        0.5,
      ),
      0,
    ),
  };
}

function reliability(calls: Outcome['calls']) {
  const edges = [0, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 1.0001];
  return Object.fromEntries(
    edges.slice(1).flatMap((to, i) => {
      const from = edges[i]!;
      const own = calls.filter((c) => c.confidence >= from && c.confidence < to);
      if (own.length === 0) return [];
      const said = own.reduce((n, c) => n + c.confidence, 0) / own.length;
      const right = own.filter((c) => c.right).length / own.length;
      return [
        [
          `${from} to ${Math.min(1, to)}`,
          { marks: own.length, said: round(said, 2), right: round(right, 2) },
        ],
      ];
    }),
  );
}

/** Standard deviation from the middle of the distribution: a few wild marks do not decide it. */
function robustSd(values: readonly number[]): number {
  return 1.4826 * quantile(values.map(Math.abs), 0.5);
}

function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
