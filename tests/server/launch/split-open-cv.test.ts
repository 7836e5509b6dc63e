import plain from '@techstark/opencv-js';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { splitOpenCv } from '../../../server/launch/split-open-cv.mjs';
import { loadOpenCv, type OpenCv } from '../../../src/raster/load-open-cv.ts';
import { folderPrefix } from '../folders-of-runs.ts';

let folder: string;
let cv: OpenCv;

beforeAll(async () => {
  folder = mkdtempSync(folderPrefix());
  const { glue, wasm } = await splitOpenCv(
    "{ wasmBinary: require('node:fs').readFileSync(__dirname + '/opencv.wasm') }",
  );
  expect(glue.length).toBeLessThan(400_000);
  writeFileSync(join(folder, 'opencv.cjs'), glue);
  writeFileSync(join(folder, 'opencv.wasm'), wasm);
  const split = createRequire(import.meta.url)(join(folder, 'opencv.cjs')) as OpenCv;
  await new Promise<void>((resolve) => (split.onRuntimeInitialized = resolve));
  cv = split;
  await loadOpenCv();
});
afterAll(() => rmSync(folder, { recursive: true }));

it('computes as the package does', () => {
  const blurred = ({ Mat, Size, matFromArray, GaussianBlur, CV_8UC1 }: OpenCv) => {
    const picture = matFromArray(
      8,
      8,
      CV_8UC1,
      Array.from({ length: 64 }, (_, i) => (i * 37) % 256),
    );
    const out = new Mat();
    GaussianBlur(picture, out, new Size(5, 5), 1.2);
    const part = out.roi({ x: 1, y: 1, width: 6, height: 6 });
    const values = [...part.clone().data];
    for (const mat of [picture, out, part]) mat.delete();
    return values;
  };
  expect(blurred(cv)).toEqual(blurred(plain));
});

it('has the same names, and says the same where it is called wrongly', () => {
  const names = (of: OpenCv) =>
    Object.entries(of)
      .filter(([name, value]) => typeof value === 'function' && !name.startsWith('on'))
      .map(([name]) => name);
  expect(names(cv)).toEqual(names(plain));
  expect(cv.Mat.name).toBe(plain.Mat.name);
  for (const wrong of [
    ({ Mat }: OpenCv) => (Mat as unknown as () => unknown)(),
    ({ Mat }: OpenCv) => new Mat().row(...([] as unknown as [number])),
    ({ GaussianBlur }: OpenCv) => (GaussianBlur as unknown as (a: number) => void)(1),
  ]) {
    expect(said(() => wrong(cv))).toBe(said(() => wrong(plain)));
  }
});

function said(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    // A function that takes several numbers of arguments goes on with the texts of its functions.
    return String(error).split(' - expects')[0]!;
  }
  return 'nothing';
}
