import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { drawReading } from '../../src/drawing/draw-reading.ts';
import { zoneLabel } from '../../src/drawing/zone-label.ts';
import { expectGolden } from '../golden/expect-golden.ts';
import { readingOfTruth } from './reading-of-truth.ts';

describe('drawReading', () => {
  it('lies exactly on the photo: one unit is one pixel', () => {
    const { reading, width, height } = readingOfTruth('fresh-06');
    const svg = drawReading(reading, { width, height });
    expect(svg).toContain(`viewBox="0 0 ${width} ${height}"`);
    const [x, y] = reading.marks[0]!.px!;
    expect(svg).toContain(`translate(${Number(x.toFixed(3))} ${Number(y.toFixed(3))})`);
  });

  it('draws a mark that only the second photo shows where it would be', () => {
    const { reading, width, height } = readingOfTruth('fresh-06');
    const [first, ...others] = reading.marks;
    const hidden = { ...reading, marks: [{ ...first!, px: null }, ...others] };
    const at = (svg: string) => /translate\(([\d.]+) ([\d.]+)\)/.exec(svg)!.slice(1).map(Number);
    const place = at(drawReading(hidden, { width, height }));
    expect(place[0]).toBeCloseTo(first!.px![0], 0);
    expect(place[1]).toBeCloseTo(first!.px![1], 0);
  });

  it('draws every ring of every spot', () => {
    const { reading, width, height } = readingOfTruth('fresh-05');
    const path = /<path d="([^"]+)"/.exec(drawReading(reading, { width, height }))![1]!;
    expect(path).toBeDefined();
    const rings = reading.fit.spots.flatMap((spot) => spot.rings).length;
    const drawn = drawReading(reading, { width, height }).match(/Z/g)!.length;
    // Casing and line; the marks' circles close too.
    expect(drawn).toBeGreaterThanOrEqual(2 * rings);
  });

  it('writes values as scorers do', () => {
    expect(zoneLabel({ zone: 10, inner: true })).toBe('X');
    expect(zoneLabel({ zone: 0, inner: false })).toBe('M');
    expect(zoneLabel({ zone: 7, inner: false })).toBe('7');
  });

  it('looks as it did', async () => {
    const { reading, width, height } = readingOfTruth('fresh-02');
    const overlay = drawReading(reading, { width, height }, { fontFamily: 'DejaVu Sans' });
    const both = await sharp(new URL('../../test-images/fresh-02.jpg', import.meta.url).pathname)
      .composite([{ input: Buffer.from(overlay) }])
      .toBuffer();
    const png = await sharp(both).resize(540).removeAlpha().png({ palette: true }).toBuffer();
    expectGolden(png, 'reading-on-photo');
  });
});
