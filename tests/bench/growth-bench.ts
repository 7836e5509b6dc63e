import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { readingJobSchema } from '../../server/reading/reading-job.ts';
import { ReadingPool } from '../../server/reading/reading-pool.ts';
import { quantile } from '../measure/quantile.ts';
import { Random } from '../rendering/random.ts';
import { renderPhoto } from '../rendering/render-photo.ts';
import { randomHole } from '../rendering/scene-parts.ts';
import type { Scene } from '../rendering/scene.ts';
import { tidyScene } from '../rendering/tidy-scene.ts';
import { memoryOfChildren } from './memory-of-children.ts';

const FACE = 'wa80';
const MEGAPIXELS = [3, 12, 24, 48] as const;
const HOLES = [5, 50, 300] as const;
const ARROWS = [1, 6, 20] as const;
/** What phones take; photos with many marks are read at this size. */
const USUAL_MEGAPIXELS = 12;
/** The first readings of a worker load it, and its code is compiled as they go. */
const WARM_UP = 2;
const TIMED = 3;

interface GrowthBenchOptions {
  /** Only rows whose name begins with this. */
  readonly only?: string;
}

/**
 * How time and memory of a reading grow with the pixels, with holes and with standing arrows: each row by
 * a worker of its own, of drawn photos that are enlarged or shrunk to their size. Rows are printed as
 * they come, so that what breaks off has told what it measured.
 */
export async function growthBench({ only = '' }: GrowthBenchOptions = {}): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-growth-'));
  const rows: Record<string, object> = {};
  const plain = tidyScene(1, 'fresh', FACE);
  const wanted: readonly (readonly [string, Scene, number])[] = [
    ...MEGAPIXELS.map((mp) => [`${mp} MP`, plain, mp] as const),
    ...HOLES.map((count) => [`${count} holes`, sceneOfHoles(count), USUAL_MEGAPIXELS] as const),
    ...ARROWS.map(
      (count) =>
        [
          `${count} ${count === 1 ? 'arrow' : 'arrows'}`,
          sceneOfArrows(count),
          USUAL_MEGAPIXELS,
        ] as const,
    ),
  ];
  const drawn = new Map<Scene, Buffer>();
  try {
    for (const [name, scene, megapixels] of wanted) {
      if (!name.startsWith(only)) continue;
      const jpeg = drawn.get(scene) ?? (await renderPhoto(scene, 'growth.jpg')).jpeg;
      drawn.set(scene, jpeg);
      rows[name] = await figures(folder, jpeg, megapixels);
      console.log(name, rows[name]);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  console.log(
    `\nGrowth of a reading, decoding included: median of ${TIMED}, and the most memory of its worker`,
  );
  console.table(rows);
}

/** A used face with so many holes all over it. */
function sceneOfHoles(count: number): Scene {
  const scene = tidyScene(1, 'fresh', FACE);
  const random = new Random(count);
  const old = Array.from({ length: count }, () => {
    const angle = random.uniform(0, 2 * Math.PI);
    const radius = 380 * Math.sqrt(random.uniform());
    const mm = [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
    return randomHole(random, mm, scene.shaftMm, 0.3);
  });
  return { ...scene, shots: [], old };
}

/** A face in which so many arrows stand, those of as many ends as that takes. */
function sceneOfArrows(count: number): Scene {
  const scene = tidyScene(1, 'standing', FACE);
  const arrows = [...scene.arrows];
  for (let seed = 2; arrows.length < count; seed++) {
    arrows.push(...tidyScene(seed, 'standing', FACE).arrows);
  }
  return { ...scene, shots: [], old: [], torn: [], arrows: arrows.slice(0, count) };
}

async function figures(folder: string, jpeg: Buffer, megapixels: number) {
  const { width, height } = await sharp(jpeg).metadata();
  const scale = Math.sqrt((megapixels * 1e6) / (width * height));
  const path = join(folder, 'photo.jpg');
  writeFileSync(
    path,
    await sharp(jpeg)
      .resize(Math.round(width * scale), Math.round(height * scale), { kernel: 'cubic' })
      .jpeg({ quality: 90 })
      .toBuffer(),
  );
  const job = readingJobSchema.parse({ photo: { path }, request: { face: FACE, shaftMm: 5.5 } });
  const pool = new ReadingPool({ workers: 1 });
  try {
    const seconds: number[] = [];
    let marks = 0;
    for (let i = 0; i < WARM_UP + TIMED; i++) {
      const start = performance.now();
      const outcome = await pool.read(job);
      if (!outcome.ok) return { failed: outcome.error.message };
      marks = outcome.reading.marks.length;
      if (i >= WARM_UP) seconds.push((performance.now() - start) / 1000);
    }
    return {
      'marks found': marks,
      seconds: Number(quantile(seconds, 0.5).toFixed(2)),
      mostMemoryMb: memoryOfChildren('VmHWM'),
    };
  } finally {
    await pool.close();
  }
}
