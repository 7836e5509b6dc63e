import sharp from 'sharp';
import { expect, it } from 'vitest';
import { rasterise } from '../../server/picture/rasterise.ts';
import { drawEndPicture } from '../../src/drawing/end-picture.ts';
import { readingOfTruth } from './reading-of-truth.ts';

const { reading } = readingOfTruth('fresh-02');
const said = {
  reading,
  photo: { width: 4000, height: 3000 },
  archer: 'Maximiliane von und zu Hohenfels',
  when: '4 May 2031, 18:20, Heron meadow behind the old mill',
  distanceM: 50,
  verdict: 'Bare shafts high (likely) and right (very likely)',
};

interface Label {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

function labelsOf(svg: string): Label[] {
  return [...svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g)].map(([, attributes, text]) => {
    const value = (key: string) =>
      Number(new RegExp(`(?:^| )${key}="([^"]*)"`).exec(attributes!)![1]);
    return { text: text!, x: value('x'), y: value('y'), size: value('font-size') };
  });
}

it('has letters that a messenger leaves legible, lines that fit, and values apart', async () => {
  const { svg, width, height, crop } = drawEndPicture(said);
  expect(crop.size).toBeGreaterThan(0);
  const below = svg.slice(svg.lastIndexOf('</svg>', svg.length - 10));
  const lines = labelsOf(below);
  expect(lines.map(({ text }) => text).join(' ')).toContain('Bare shafts high (likely)');
  // Shown as wide as a phone, 360 px: a third.
  for (const { size } of lines) expect(size / 3).toBeGreaterThanOrEqual(11);
  for (const { text, x, size } of lines) expect(x + 0.62 * size * text.length).toBeLessThan(width);
  for (const [i, line] of lines.entries()) {
    if (i > 0) expect(line.y - lines[i - 1]!.y).toBeGreaterThan(0.9 * line.size);
  }
  expect(lines.at(-1)!.y).toBeLessThan(height);
  expect(svg).not.toContain('NaN');
  const png = await sharp(await rasterise(svg)).metadata();
  expect(png.width / png.height).toBeCloseTo(width / height, 2);
});

it('puts values of arrows that stand together beside one another', () => {
  const [mark] = reading.marks;
  const bunch = [0, 1, 2, 3, 4].map((i) => ({
    ...mark!,
    id: `m${i}`,
    age: 'fresh' as const,
    px: [mark!.px![0] + 8 * (i % 2), mark!.px![1] + 8 * i] as [number, number],
  }));
  const { svg, crop } = drawEndPicture({ ...said, reading: { ...reading, marks: bunch } });
  const layer = svg.slice(svg.indexOf('<svg', 5), svg.indexOf('</svg>'));
  const labels = labelsOf(layer);
  expect(labels).toHaveLength(5);
  const unit = crop.size / 1.06 / 400;
  for (const [i, a] of labels.entries()) {
    for (const b of labels.slice(i + 1)) {
      const apart = Math.abs(a.x - b.x) > 7 * unit || Math.abs(a.y - b.y) > 7 * unit;
      expect([a.x, a.y, b.x, b.y, apart].at(-1)).toBe(true);
    }
  }
});
