import sharp from 'sharp';
import { beforeAll, describe, expect, test } from 'vitest';
import { FACES, type FaceId } from '../../src/face/faces.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { livedScene } from '../rendering/lived-scene.ts';
import { madeSmall } from '../rendering/made-small.ts';
import { renderPhoto } from '../rendering/render-photo.ts';
import type { TidyCategory } from '../rendering/scene.ts';
import { tidyScene } from '../rendering/tidy-scene.ts';
import { radialErrors } from './radial-errors.ts';

/** Photos drawn small, so that many faces can be looked at in little time. */
const LONG_PX = 480;

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

async function rasterOf(jpeg: Buffer): Promise<Raster> {
  const { data, info } = await sharp(jpeg)
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data: new Uint8ClampedArray(data) };
}

/** Faces that no photo of the test set shows. */
const FACES_DRAWN: readonly (readonly [FaceId, TidyCategory, number])[] = [
  ['wa40-triple-triangular', 'fresh', 1],
  ['wa60-triple-vertical', 'fresh', 2],
  ['wa60-triple-triangular', 'fresh', 4],
  ['field-60', 'fresh', 3],
  ['ifaa40-indoor', 'fresh', 2],
  // Dark shafts join the spot to the ring, and the ring to what is beside the paper.
  ['ifaa65', 'standing', 2],
  ['ifaa35', 'standing', 1],
  // Several side by side are as wide as the spot, on faded print.
  ['ifaa50', 'standing', 2],
  // Something dark looks like the face by full inks; the face is faded.
  ['ifaa50', 'standing', 8],
  // A bunch as wide as the spot, which leaves nothing of it but what lies around.
  ['ifaa20', 'standing', 5],
];

describe('a drawn photo of a face', () => {
  test.each(FACES_DRAWN)(
    '%s, %s, is found and measured, asked for or not',
    async (id, category, seed) => {
      const scene = madeSmall(tidyScene(seed, category, id), LONG_PX);
      const { jpeg, truth } = await renderPhoto(scene, 'drawn.jpg');
      const photo = await rasterOf(jpeg);
      const { fit, candidates } = fitFace(photo, { face: id }, cv);
      expect(candidates[0]!.family).toBe(FACES[id].family);
      const { rmsMm } = radialErrors(truth.spots, fit, (px) => px);
      const zoneMm = FACES[id].zones[0]!.outerRadiusMm - FACES[id].zones[1]!.outerRadiusMm;
      expect(rmsMm).toBeLessThan(zoneMm / 40);
      const seen = fitFace(photo, { face: 'auto' }, cv).fit;
      expect(FACES[seen.face].family).toBe(FACES[id].family);
    },
  );
});

describe('of the tilts that two inks leave open', () => {
  let drawn: Awaited<ReturnType<typeof renderPhoto>>;
  beforeAll(async () => {
    const scene = madeSmall(livedScene(5197, 'mistold', 'ifaa40-indoor'), 2 * LONG_PX);
    drawn = await renderPhoto(scene, 'drawn.jpg');
  });

  test('the one is taken whose rings are seen', async () => {
    const { fit } = fitFace(await rasterOf(drawn.jpeg), { face: 'auto' }, cv);
    expect(fit.face).toBe('ifaa40-indoor');
    expect(radialErrors(drawn.truth.spots, fit, (px) => px).rmsMm).toBeLessThan(40 / 20);
  });
});

test('where the camera looked past the face, no line of an ink is taken for the next one', async () => {
  const scene = madeSmall(livedScene(11059, 'askew', 'field-40'), LONG_PX);
  const { jpeg, truth } = await renderPhoto(scene, 'drawn.jpg');
  const { fit } = fitFace(await rasterOf(jpeg), { face: 'field-40' }, cv);
  expect(radialErrors(truth.spots, fit, (px) => px).rmsMm).toBeLessThan(40 / 20);
});

test('two spots of three are never taken for the upper ones where the boss would be the third', async () => {
  const scene = madeSmall(livedScene(8007, 'crowd', 'wa40-triple-vertical'), 1100);
  const { jpeg, truth } = await renderPhoto(scene, 'drawn.jpg');
  const photo = await rasterOf(jpeg);
  try {
    const { fit } = fitFace(photo, { face: 'wa40-triple-vertical' }, cv);
    expect(radialErrors(truth.spots, fit, (px) => px).rmsMm).toBeLessThan(40 / 20);
  } catch (error) {
    expect(error).toBeInstanceOf(ReadingError);
  }
});
