import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { decodePhoto } from '../../server/decode/decode-photo.ts';
import { loadPhotoReader } from '../../server/reading/load-photo-reader.ts';
import type { PhotoReader } from '../../server/reading/photo-reader.ts';
import { readingSchema } from '../../src/reading/reading.ts';
import { readingRequestSchema } from '../../src/request/request.ts';
import { summary } from '../bench/reading-bench.ts';
import { readTruths, type TruthResult } from '../measure/read-truths.ts';
import { truthsIn } from '../measure/truth.ts';
import { LIVED, TIDY } from '../rendering/scene.ts';

const FOLDER = 'test-images';

let reader: PhotoReader;
const results: TruthResult[] = [];

beforeAll(async () => {
  reader = await loadPhotoReader();
  for await (const result of readTruths(FOLDER, truthsIn(FOLDER), reader)) results.push(result);
  // Half a minute on an idle machine.
}, 900_000);

/** Figures over the photos of a category; margins leave room for rounding, not for regressions. */
const figures = (...categories: string[]) =>
  summary(results.filter(({ truth }) => categories.includes(truth.category)));

describe('reading the test photos', () => {
  it('reads every photo, in the form of the contract', () => {
    for (const { truth, outcome } of results) {
      expect(outcome.ok, `${truth.photo}: ${outcome.ok ? '' : outcome.message}`).toBe(true);
      if (outcome.ok) expect(readingSchema.safeParse(outcome.reading).error).toBeUndefined();
    }
  });

  it('places rings to a fraction of a millimetre, and up to a fraction of a degree', () => {
    const all = figures(...TIDY, 'pair');
    expect(all.fitMedianMm).toBeLessThan(0.3);
    expect(all.fitP95Mm).toBeLessThan(0.8);
    expect(all.upP95Deg).toBeLessThan(0.5);
  });

  it('finds the holes of fresh faces and values them', () => {
    const fresh = figures('fresh');
    expect(fresh.precision).toBeGreaterThanOrEqual(0.95);
    expect(fresh.recall).toBeGreaterThanOrEqual(0.95);
    expect(fresh.posMedianMm).toBeLessThan(1);
    expect(fresh.clearRight).toBeGreaterThanOrEqual(0.97);
    expect(fresh.offsetMedianMm).toBeLessThan(1.5);
  });

  it('finds nearly all holes of used faces', () => {
    const used = figures('used');
    expect(used.precision).toBeGreaterThanOrEqual(0.9);
    expect(used.recall).toBeGreaterThanOrEqual(0.85);
  });

  it('finds what is new since the photo from before', () => {
    const pair = figures('pair');
    expect(pair.recall).toBeGreaterThanOrEqual(0.9);
    expect(pair.posMedianMm).toBeLessThan(0.8);
  });

  it('finds standing arrows where they enter', () => {
    const standing = figures('standing');
    expect(standing.recall).toBeGreaterThanOrEqual(0.8);
    expect(standing.posMedianMm).toBeLessThan(1.5);
  });

  it('finds them on photos as people take them', () => {
    const lived = figures(...LIVED);
    expect(lived.recall).toBeGreaterThanOrEqual(0.8);
    expect(lived.precision).toBeGreaterThanOrEqual(0.85);
    expect(lived.posMedianMm).toBeLessThan(2);
  });
});

describe('what a person is told', () => {
  /** A photo as a messenger shrinks it: what is told of it is the same. */
  const read = async (name: string, request: object) => {
    const bytes = await sharp(`${FOLDER}/${name}`).resize({ width: 1000 }).jpeg().toBuffer();
    return reader(await decodePhoto(bytes), readingRequestSchema.parse(request), {});
  };

  it('says what it assumes when nobody named the printed size and the shaft', async () => {
    const reading = await read('fresh-06.jpg', {});
    expect(reading.face).toBe('wa80');
    expect(reading.fit.notes.join(' ')).toMatch(/does not show how large/);
    expect(reading.warnings.join(' ')).toMatch(/No shaft diameter was given/);
  });

  it('finds arrows three times as wide as was said, and says so', async () => {
    const said = { face: 'wa80-6', shaftMm: 3.5, fletched: 11, bare: 0 };
    const reading = await read('front-01.jpg', said);
    const standing = reading.marks.filter(({ state }) => state === 'standing');
    expect(standing.length).toBeGreaterThanOrEqual(7);
    expect(reading.warnings.join(' ')).toMatch(/The shafts look about (9|10|11) mm wide/);
  });

  it('warns when fewer marks are found than arrows were shot', async () => {
    const reading = await read('fresh-06.jpg', {
      face: 'wa80',
      shaftMm: 5.8,
      fletched: 9,
      bare: 6,
    });
    expect(reading.marks.filter((mark) => mark.age === 'fresh').length).toBeLessThan(15);
    expect(reading.warnings.join(' ')).toMatch(/15 arrows shot, \d+ found/);
  });
});
