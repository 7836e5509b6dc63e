import { beforeAll, describe, expect, it } from 'vitest';
import { labelRegions } from '../../src/raster/label-regions.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

/** A mask from rows of text: '#' is in. */
function mask(...rows: string[]) {
  const data = Uint8Array.from(rows.join(''), (sign) => (sign === '#' ? 255 : 0));
  return { width: rows[0]!.length, height: rows.length, data };
}

const ALL = { closePx: 0, minAreaPx: 1, most: 99 };

describe('labelRegions', () => {
  it('says area and middle of each region, the first pixel centre at half a pixel', () => {
    const regions = labelRegions(cv, mask('##....', '##....', '......', '.....#'), ALL);
    expect(regions.map(({ areaPx }) => areaPx)).toEqual([4, 1]);
    expect(regions[0]!.centrePx).toEqual([1, 1]);
    expect(regions[1]!.centrePx).toEqual([5.5, 3.5]);
  });

  it('puts first what holds the largest disc, not what has the most pixels', () => {
    const regions = labelRegions(
      cv,
      mask(
        '...........',
        '#########..',
        '...........',
        '.......###.',
        '.......###.',
        '.......###.',
      ),
      ALL,
    );
    expect(regions.map(({ areaPx }) => areaPx)).toEqual([9, 9]);
    expect(regions[0]!.centrePx).toEqual([8.5, 4.5]);
    expect(regions[0]!.deepestPx).toEqual([8.5, 4.5]);
    expect(regions[0]!.depthPx).toBeGreaterThan(regions[1]!.depthPx);
  });

  it('joins what a shaft has cut in two, where the gap is narrow enough', () => {
    const row = '..###.###..';
    const none = '...........';
    const cut = mask(none, none, row, row, row, none, none);
    expect(labelRegions(cv, cut, ALL)).toHaveLength(2);
    const joined = labelRegions(cv, cut, { ...ALL, closePx: 1 });
    expect(joined).toHaveLength(1);
    expect(joined[0]!.areaPx).toBe(21);
  });

  it('counts corners as touching, and leaves out specks and what is beyond the most wanted', () => {
    const picture = mask('#......', '.#.....', '....#..', '.....##', '.....##');
    expect(
      labelRegions(cv, picture, ALL)
        .map(({ areaPx }) => areaPx)
        .sort(),
    ).toEqual([2, 5]);
    expect(labelRegions(cv, picture, { ...ALL, minAreaPx: 3 })).toHaveLength(1);
    expect(labelRegions(cv, picture, { ...ALL, most: 1 })).toHaveLength(1);
    expect(labelRegions(cv, mask('....'), ALL)).toEqual([]);
  });
});
