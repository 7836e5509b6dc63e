import { readFileSync } from 'node:fs';
import { beforeAll, expect, test, vi } from 'vitest';
import { readPhotoFile } from '../../server/decode/read-photo-file.ts';
import { findMarks, type MarkEngine, type Photographed } from '../../src/marks/find-marks.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { loadOpenCv } from '../../src/raster/load-open-cv.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { truthFit, type FitTruth } from '../fit/truth-fit.ts';
import { requestFor, truthsIn, type Truth } from '../measure/truth.ts';

vi.setConfig({ testTimeout: 180_000 });

const FOLDER = 'test-images';
const truths = truthsIn(FOLDER);
let engine: MarkEngine;

beforeAll(async () => {
  engine = { cv: (await loadOpenCv()).cv, networks: null };
});

async function photographed(name: string): Promise<Photographed> {
  const truth = JSON.parse(
    readFileSync(`${FOLDER}/${name.replace(/jpg$/, 'json')}`, 'utf8'),
  ) as FitTruth;
  return { photo: (await readPhotoFile(`${FOLDER}/${name}`)).raster, fit: truthFit(truth) };
}

function errorsMm(truth: Truth, marks: readonly Mark[]): number[] {
  return truth.shots.map((shot) =>
    Math.min(
      ...marks
        .filter((mark) => mark.age === 'fresh' && mark.spot === shot.spot)
        .map((mark) => Math.hypot(mark.mm[0] - shot.spot_mm[0], mark.mm[1] - shot.spot_mm[1])),
    ),
  );
}

const named = (photo: string) => truths.find((truth) => truth.photo === photo)!;

test.each(['fresh-06.jpg', 'fresh-05.jpg'])(
  'finds every hole of a fresh face by the hand-made evidence: %s',
  async (name) => {
    const truth = named(name);
    const { photo, fit } = await photographed(name);
    const { marks, warnings } = await findMarks(photo, fit, requestFor(truth), engine);
    expect(warnings).toEqual([]);
    expect(marks.filter((mark) => mark.age === 'fresh')).toHaveLength(truth.shots.length);
    const errors = errorsMm(truth, marks).sort((a, b) => a - b);
    expect(errors.at(-1)).toBeLessThan(2.5);
    expect(errors[errors.length >> 1]).toBeLessThan(1);
  },
);

test('finds what is new on a face full of holes', async () => {
  const truth = named('pair-01-after.jpg');
  const after = await photographed(truth.photo);
  const before = await photographed(truth.pairOf!);
  const { marks } = await findMarks(after.photo, after.fit, requestFor(truth), engine, before);
  expect(marks.filter((mark) => mark.age === 'fresh')).toHaveLength(truth.shots.length);
  expect(Math.max(...errorsMm(truth, marks))).toBeLessThan(2);
});

test('refuses a photo from before that shows another face', async () => {
  const truth = named('used-04.jpg');
  const after = await photographed('used-04.jpg');
  const other = await photographed('pair-02-before.jpg');
  const before = { photo: other.photo, fit: { ...other.fit, face: after.fit.face } };
  const failure = findMarks(after.photo, after.fit, requestFor(truth), engine, before);
  await expect(failure).rejects.toThrow(ReadingError);
  await expect(failure).rejects.toMatchObject({ code: 'before-differs' });
});
