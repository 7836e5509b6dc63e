import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadPhotoReader } from '../../server/reading/load-photo-reader.ts';
import { quantile } from '../measure/quantile.ts';
import { readTruths, type TruthResult } from '../measure/read-truths.ts';
import { truthsIn } from '../measure/truth.ts';
import { drawSet } from '../rendering/draw-set.ts';
import { LIVED } from '../rendering/scene.ts';

export interface StandingBenchOptions {
  /** Photos drawn before; without, some of every lived-in category are drawn. */
  readonly folder?: string;
  /** Only photos whose name begins with this. */
  readonly only?: string;
  readonly firstSeed?: number;
}

const PER_CATEGORY = 3;
/** Half width of a 90 % interval, in sigmas. */
const NINETY = 1.6449;

/**
 * Reads arrows standing in faces as people photograph them, and prints by category what is found,
 * how exactly, and how often the 90 % interval of a position holds it.
 */
export async function standingBench(options: StandingBenchOptions = {}): Promise<void> {
  const drawn = options.folder ? null : mkdtempSync(join(tmpdir(), 'endwise-lived-'));
  const folder = options.folder ?? drawn!;
  try {
    if (drawn) {
      const firstSeed = options.firstSeed ?? 1;
      await drawSet(drawn, { categories: LIVED, perCategory: PER_CATEGORY, firstSeed });
    }
    const reader = await loadPhotoReader();
    const truths = truthsIn(folder).filter((truth) => truth.photo.startsWith(options.only ?? ''));
    const results: TruthResult[] = [];
    for await (const result of readTruths(folder, truths, reader)) results.push(result);
    const categories = [...new Set(results.map(({ truth }) => truth.category))];
    console.log(
      `\nStanding arrows in ${results.length} photos of ${options.folder ?? 'a new set'}`,
    );
    console.table(
      Object.fromEntries([
        ...categories.map((c) => [c, figures(results.filter((r) => r.truth.category === c))]),
        ['all', figures(results)],
      ]),
    );
  } finally {
    if (drawn) rmSync(drawn, { recursive: true });
  }
}

function figures(results: readonly TruthResult[]) {
  const scores = results.flatMap(({ outcome }) => (outcome.ok ? [outcome.score] : []));
  const sum = (pick: (score: (typeof scores)[number]) => number) =>
    scores.reduce((total, score) => total + pick(score), 0);
  const hit = sum((score) => score.hit);
  // Arrows of a photo that was refused are missed too.
  const refused = results
    .filter(({ outcome }) => !outcome.ok)
    .reduce((n, { truth }) => n + truth.shots.filter(({ visible }) => visible).length, 0);
  const errors = scores.flatMap((score) => score.errorsMm);
  const sigmas = scores.flatMap((score) => score.normalised);
  const shown = (value: number, digits: number) => Number(value.toFixed(digits));
  return {
    photos: results.length,
    refused: results.length - scores.length,
    recall: shown(hit / (hit + sum((score) => score.missed) + refused), 3),
    precision: shown(hit / (hit + sum((score) => score.extra)), 3),
    posMedianMm: shown(quantile(errors, 0.5), 2),
    posP95Mm: shown(quantile(errors, 0.95), 2),
    held90: shown(sigmas.filter((z) => Math.abs(z) < NINETY).length / sigmas.length, 3),
    fitP95Mm: shown(
      quantile(
        scores.map((score) => score.fitMm),
        0.95,
      ),
      2,
    ),
    upP95Deg: shown(
      quantile(
        scores.map((score) => score.upDeg),
        0.95,
      ),
      1,
    ),
  };
}
