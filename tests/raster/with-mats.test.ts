import { beforeAll, expect, it } from 'vitest';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import { withMats } from '../../src/raster/with-mats.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

const thing = (name: string, gone: string[]) => ({ delete: () => void gone.push(name) });

it('deletes what was kept, the last first, and hands the answer on', () => {
  const gone: string[] = [];
  const answer = withMats(cv, (keep) => {
    keep(thing('first', gone));
    keep(thing('second', gone));
    expect(gone).toEqual([]);
    return 7;
  });
  expect([answer, gone]).toEqual([7, ['second', 'first']]);
});

it('deletes it also when the work throws, whose error leaves as it is', () => {
  const gone: string[] = [];
  const fault = new RangeError('mine');
  expect(() =>
    withMats(cv, (keep) => {
      keep(thing('only', gone));
      throw fault;
    }),
  ).toThrow(fault);
  expect(gone).toEqual(['only']);
});

it("says in words what OpenCV's number of an error means", () => {
  expect(() =>
    withMats(cv, (keep) => {
      const empty = keep(new cv.Mat());
      cv.cvtColor(empty, keep(new cv.Mat()), cv.COLOR_RGBA2GRAY as number);
    }),
  ).toThrow(/^OpenCV: .*(empty|Assertion)/s);
});
