import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { drawGroups } from '../../src/drawing/draw-groups.ts';
import { FACES } from '../../src/face/faces.ts';
import { groupsOf } from '../../src/groups/groups-of.ts';
import type { ArrowKind } from '../../src/marks/mark.ts';
import { expectGolden } from '../golden/expect-golden.ts';

const arrow = (kind: ArrowKind, x: number, y: number) => ({ kind, mm: [x, y] as const });

const END = [
  arrow('fletched', -35, -25),
  arrow('fletched', -53, 6),
  arrow('fletched', -28, 13),
  arrow('bare', 28, -145),
  arrow('bare', 40, -249),
];

const number = (text: string | undefined) => Number(text ?? NaN);

/** Centre and radius of the circle with a class, in units of the drawing. */
function circle(svg: string, name: string): { x: number; y: number; r: number } {
  const tag = new RegExp(`<circle [^>]*class="${name}"[^>]*>`).exec(svg)?.[0] ?? '';
  const value = (key: string) => number(new RegExp(` ${key}="([^"]+)"`).exec(tag)?.[1]);
  return { x: value('cx'), y: value('cy'), r: value('r') };
}

const placesOf = (svg: string, kind: string) =>
  [...svg.matchAll(/<g transform="translate\(([-\d.]+) ([-\d.]+)\)[^>]*class="mark mark-(\w+)"/g)]
    .filter((match) => match[3] === kind)
    .map((match) => [number(match[1]), number(match[2])] as const);

describe('drawGroups', () => {
  const groups = groupsOf(END, { distanceM: 50 });
  const plot = {
    face: FACES.wa80,
    arrows: END,
    groups,
    distanceM: 50,
    plateRadiusMm: 225,
    wanted: { mm: [0, 0] as const, radiusMm: 50 },
  };

  it('is to scale: arrows, plate and dead zone share one unit, y up', () => {
    const svg = drawGroups(plot);
    const [a, b] = placesOf(svg, 'bare') as [readonly [number, number], readonly [number, number]];
    const unit = (b[1] - a[1]) / (249 - 145);
    expect(unit).toBeGreaterThan(0);
    expect((b[0] - a[0]) / unit).toBeCloseTo(40 - 28, 1);
    expect(circle(svg, 'plate').r / unit).toBeCloseTo(225, 0);
    expect(circle(svg, 'wanted').r / unit).toBeCloseTo(50, 0);
    const [fx, fy] = groups.fletched!.meanMm;
    const [first] = placesOf(svg, 'fletched');
    expect((circle(svg, 'plate').x - first![0]) / unit).toBeCloseTo(fx + 35, 0);
    expect((first![1] - circle(svg, 'plate').y) / unit).toBeCloseTo(fy + 25, 0);
  });

  it('shows every arrow inside the frame, however far out', () => {
    for (const far of [10, 150, 600]) {
      const svg = drawGroups({ ...plot, arrows: [...END, arrow('bare', far, -far)] });
      for (const [x, y] of [...placesOf(svg, 'bare'), ...placesOf(svg, 'fletched')]) {
        expect(Math.min(x, y)).toBeGreaterThan(0);
        expect(Math.max(x, y)).toBeLessThan(400);
      }
    }
  });

  it('draws the region where the offset says, turned counter-clockwise', () => {
    const svg = drawGroups({
      ...plot,
      groups: {
        ...groups,
        offset: {
          ...groups.offset!,
          region90Mrad: { centre: [1.5, -4], semiAxes: [2, 1], angleDeg: 30 },
        },
      },
    });
    const ellipse = /<ellipse [^>]*>/.exec(svg)![0];
    expect(ellipse).toContain('rotate(-30)');
    const radius = (key: string) => number(new RegExp(` ${key}="([^"]+)"`).exec(ellipse)?.[1]);
    expect(radius('rx') / radius('ry')).toBeCloseTo(2, 3);
  });

  it('says in words what it shows, and needs neither groups nor arrows', () => {
    expect(drawGroups(plot)).toMatch(/bare shafts' mean lies \d+ mm low and \d+ mm right/);
    const empty = drawGroups({ face: FACES['field-60'], arrows: [], groups: null });
    expect(empty).toContain('0 fletched, 0 bare');
  });

  it('escapes what it writes', () => {
    expect(drawGroups(plot, { fontFamily: '"<&' })).toContain('font-family="&quot;&lt;&amp;"');
  });

  it('looks as it did', async () => {
    const svg = drawGroups(plot, { fontFamily: 'DejaVu Sans' });
    const png = await sharp(Buffer.from(svg), { density: 108 }).resize(600).png().toBuffer();
    expectGolden(png, 'groups');
  });
});
