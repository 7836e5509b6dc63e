import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { loadOpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import type { Engine } from '../../src/reading/engine.ts';
import { readPhoto, type ReadingStage } from '../../src/reading/read-photo.ts';
import { readingRequestSchema } from '../../src/request/request.ts';

const REQUEST = readingRequestSchema.parse({ face: 'wa80', shaftMm: 5.8, fletched: 3, bare: 2 });
let engine: Engine;
let photo: Raster;
const meadow: Raster = {
  width: 300,
  height: 300,
  data: new Uint8ClampedArray(300 * 300 * 4).fill(90),
};

beforeAll(async () => {
  engine = { cv: (await loadOpenCv()).cv, networks: null };
  const picture = sharp('test-images/fresh-06.jpg').resize({ width: 500 }).ensureAlpha();
  const { data, info } = await picture.raw().toBuffer({ resolveWithObject: true });
  photo = { width: info.width, height: info.height, data: new Uint8ClampedArray(data) };
});

test('whoever stops it between two stages is heard before the next one', async () => {
  const stages: ReadingStage[] = [];
  const signal = { aborted: false };
  const reading = readPhoto(photo, REQUEST, engine, {
    signal,
    onStage: async (stage) => {
      stages.push(stage);
      // As long as a message takes to arrive.
      await new Promise((resolve) => setImmediate(resolve));
      signal.aborted = stage === 'marks';
    },
  });
  await expect(reading).rejects.toMatchObject({ code: 'cancelled' });
  expect(stages).toEqual(['face', 'marks']);
});

test('says of which of two photos it cannot be read', async () => {
  const stages: ReadingStage[] = [];
  const onStage = (stage: ReadingStage) => void stages.push(stage);
  const joined = readPhoto(photo, REQUEST, engine, { also: { photo: meadow }, onStage });
  await expect(joined).rejects.toMatchObject({
    code: 'no-face',
    message: expect.stringMatching(/^The second photo: No target face was found/) as string,
  });
  expect(stages).toEqual(['face', 'marks', 'also']);
  const first = readPhoto(meadow, REQUEST, engine, { also: { photo } });
  await expect(first).rejects.toThrow(/^No target face was found/);
});
