import { appendFileSync, existsSync, writeFileSync } from 'node:fs';
import { loadPhotoReader } from '../../server/reading/load-photo-reader.ts';
import { quantile } from '../measure/quantile.ts';
import { readTruths, type TruthResult } from '../measure/read-truths.ts';
import { truthsIn } from '../measure/truth.ts';

/** Photos with truth beside the checkout are measured when they are there. */
export const PHOTO_FOLDERS = ['../shared/photos/open', 'test-images'];

export interface ReadingBenchOptions {
  readonly folder?: string;
  /** Where each reading is written as a line, for other tools. */
  readonly resultsFile?: string;
  /** Only photos whose name begins with this. */
  readonly only?: string;
}

/** Reads every photo of a folder in one warm process and prints accuracy and time by category. */
export async function readingBench(options: ReadingBenchOptions = {}): Promise<void> {
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const reader = await loadPhotoReader();
  const truths = truthsIn(folder).filter((truth) => truth.photo.startsWith(options.only ?? ''));
  if (options.resultsFile) writeFileSync(options.resultsFile, '');
  const results: TruthResult[] = [];
  for await (const result of readTruths(folder, truths, reader)) {
    results.push(result);
    console.log(describe(result));
    if (options.resultsFile) appendFileSync(options.resultsFile, `${asLine(result)}\n`);
  }
  console.log(`\nReadings of ${results.length} photos in ${folder}`);
  const categories = [...new Set(results.map(({ truth }) => truth.category))];
  console.table(
    Object.fromEntries([
      ...categories.map((c) => [c, summary(results.filter((r) => r.truth.category === c))]),
      ['all', summary(results)],
    ]),
  );
}

function describe({ truth, outcome, readMs }: TruthResult): string {
  const name = `${truth.photo} (${truth.face})`.padEnd(34);
  if (!outcome.ok) return `${name} FAILED ${outcome.message}`;
  const { fitMm, hit, missed, extra, offsetMm } = outcome.score;
  return (
    `${name} fit ${fitMm.toFixed(2)} mm, hit ${hit}, missed ${missed}, extra ${extra}, ` +
    `offset off by ${offsetMm?.toFixed(1) ?? '-'} mm, ${readMs.toFixed(0)} ms`
  );
}

function asLine({ truth, outcome, decodeMs, readMs }: TruthResult): string {
  return JSON.stringify({
    photo: truth.photo,
    ok: outcome.ok,
    elapsedMs: Math.round(decodeMs + readMs),
    ...(outcome.ok
      ? { reading: outcome.reading }
      : { error: { code: 'failed', message: outcome.message } }),
  });
}

export function summary(results: readonly TruthResult[]) {
  const scores = results.flatMap(({ outcome }) => (outcome.ok ? [outcome.score] : []));
  const total = (pick: (s: (typeof scores)[number]) => number) =>
    scores.reduce((sum, score) => sum + pick(score), 0);
  const hit = total((s) => s.hit);
  const errors = scores.flatMap((s) => s.errorsMm);
  const normalised = scores.flatMap((s) => s.normalised);
  const offsets = scores.flatMap((s) => (s.offsetMm === null ? [] : [s.offsetMm]));
  const shown = (value: number, digits: number) => Number(value.toFixed(digits));
  return {
    photos: results.length,
    failed: results.length - scores.length,
    fitMedianMm: shown(
      quantile(
        scores.map((s) => s.fitMm),
        0.5,
      ),
      2,
    ),
    fitP95Mm: shown(
      quantile(
        scores.map((s) => s.fitMm),
        0.95,
      ),
      2,
    ),
    upP95Deg: shown(
      quantile(
        scores.map((s) => s.upDeg),
        0.95,
      ),
      1,
    ),
    precision: shown(hit / (hit + total((s) => s.extra)), 3),
    recall: shown(hit / (hit + total((s) => s.missed)), 3),
    posMedianMm: shown(quantile(errors, 0.5), 2),
    posP95Mm: shown(quantile(errors, 0.95), 2),
    normalisedSd: shown(rms(normalised), 2),
    clearRight: shown(total((s) => s.clearRight) / total((s) => s.clear), 3),
    offsetMedianMm: shown(quantile(offsets, 0.5), 1),
    kindRight: shown(total((s) => s.tagRight) / total((s) => s.tagged), 2),
    readMsMedian: shown(
      quantile(
        results.map((r) => r.readMs),
        0.5,
      ),
      0,
    ),
  };
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
}
