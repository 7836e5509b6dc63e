import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { rasterise } from '../../server/picture/rasterise.ts';
import { drawComparison } from '../../src/drawing/draw-comparison.ts';
import { drawSetUps } from '../../src/drawing/draw-set-ups.ts';
import { drawSpreadAgainstDistance } from '../../src/drawing/draw-spread-against-distance.ts';
import { drawTimeline } from '../../src/drawing/draw-timeline.ts';
import { drawWalkBack } from '../../src/drawing/draw-walk-back.ts';
import { restoreSheetPage } from '../../src/drawing/restore-sheet-page.ts';
import { compareSetUps } from '../../src/trends/compare-set-ups.ts';
import { setUpFigures } from '../../src/trends/set-up-figures.ts';
import { spreadAgainstDistance } from '../../src/trends/spread-against-distance.ts';
import { timeline } from '../../src/trends/timeline.ts';
import { trendEnds } from '../../src/trends/trend-ends.ts';
import { walkBack } from '../../src/trends/walk-back.ts';
import { restoreSheet } from '../../src/tuning/bow/restore-sheet.ts';
import { setUpDifference } from '../../src/tuning/bow/set-up-difference.ts';
import { expectGolden } from '../golden/expect-golden.ts';
import { season } from './season.ts';

const { bow, setUps, ...log } = season();
const ends = trendEnds(log);
const LOOK = { fontFamily: 'DejaVu Sans' };

/** Every drawing of the season, its set-ups called by their names or by others. */
function drawings(nameOf = (name: string) => name, width?: number): Record<string, string> {
  const look = { ...LOOK, ...(width !== undefined && { width }) };
  const named = setUps.map((setUp) => ({ ...setUp, name: nameOf(setUp.name) }));
  const names = Object.fromEntries(named.map(({ id, name }) => [id, name]));
  const rows = named.map(({ id, name, date }, i) => {
    const before = setUps[i - 1];
    const changes = before ? setUpDifference(bow, before, setUps[i]!) : [];
    return { id, name, date, changes: changes.map(({ name: of, words }) => `${of}: ${words}`) };
  });
  const series = named.map(({ id, name }) => ({
    name,
    trend: spreadAgainstDistance(ends.filter((end) => end.setUpId === id)),
  }));
  const compared = { first: names['softer']!, second: names['raised']! };
  return {
    timeline: drawTimeline(timeline(ends), names, look),
    'spread-against-distance': drawSpreadAgainstDistance(series, look),
    'walk-back': drawWalkBack(walkBack(ends), look),
    comparison: drawComparison(compareSetUps(ends, 'softer', 'raised'), compared, look),
    'set-ups': drawSetUps(rows, setUpFigures(ends, Object.keys(names)), LOOK),
  };
}

interface Label {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly baseline: number;
  readonly size: number;
}

/** Where a drawing's texts are, by the mean width of the letters of DejaVu Sans (0.6 em). */
function labelsOf(svg: string): Label[] {
  return [...svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g)].map(([, attributes, text]) => {
    const value = (key: string) => new RegExp(`(?:^| )${key}="([^"]*)"`).exec(attributes!)?.[1];
    const size = Number(value('font-size') ?? 14);
    const width = 0.6 * size * [...text!].length;
    const x = Number(value('x'));
    const share = { start: 0, middle: 0.5, end: 1 }[value('text-anchor') ?? 'start']!;
    return {
      text: text!,
      left: x - share * width,
      right: x + (1 - share) * width,
      baseline: Number(value('y')),
      size,
    };
  });
}

const meet = (a: Label, b: Label) =>
  a.left < b.right &&
  b.left < a.right &&
  Math.abs(a.baseline - b.baseline) < 0.8 * Math.max(a.size, b.size);

describe('drawings of trends', () => {
  const long = (name: string) => `${name} with the long rod and the other string & tab`;
  it.each([
    ['plain names', drawings()],
    ['long names', drawings(long)],
    ['one word of 60 letters', drawings(() => 'W'.repeat(60))],
    // What a phone of 320 px has room for, and one of 390.
    ['plain names, 276 wide', drawings(undefined, 276)],
    ['long names, 276 wide', drawings(long, 276)],
    ['long names, 346 wide', drawings(long, 346)],
  ])('keep their labels apart and on the sheet: %s', (_what, drawn) => {
    for (const [name, svg] of Object.entries(drawn)) {
      const width = Number(/viewBox="0 0 (\d+)/.exec(svg)![1]);
      // At 390 pixels, a phone's width, letters are still 8 pixels tall or more.
      expect(width).toBeLessThanOrEqual(580);
      const labels = labelsOf(svg);
      expect(labels.length).toBeGreaterThan(5);
      for (const [i, label] of labels.entries()) {
        expect(label.size).toBeGreaterThanOrEqual(12);
        expect([name, label.text, label.left >= 0, label.right <= width]).toEqual([name, label.text, true, true]); // prettier-ignore
        const met = labels.slice(i + 1).find((other) => meet(label, other));
        expect(met && [name, label.text, met.text]).toBeUndefined();
      }
    }
  });

  it.each(Object.entries(drawings()))('look as they did: %s', async (name, svg) => {
    const png = await sharp(await rasterise(svg))
      .resize({ width: 560 })
      .png()
      .toBuffer();
    expectGolden(png, `trend-${name}`);
  });

  it('say so where there is nothing to show', () => {
    expect(drawTimeline(timeline([]))).toContain('Nothing to show yet');
    expect(drawSpreadAgainstDistance([])).toContain('No groups');
    expect(drawWalkBack(walkBack([]))).toContain('No groups');
    expect(drawComparison(compareSetUps([], 'a', 'b'), { first: 'A', second: 'B' })).toContain(
      'Nothing to compare yet',
    );
    const unshot = { id: 'a', name: 'A', date: '2031-03-01T10:00:00Z', changes: [] };
    expect(drawSetUps([unshot], setUpFigures([], ['a']))).toContain('not shot yet');
  });
});

describe('setUpFigures', () => {
  it('takes the spread within ends and averages on the face that most set-ups share', () => {
    const figures = setUpFigures(
      ends,
      setUps.map(({ id }) => id),
    );
    // 30 m is the one distance where all three were shot.
    expect(figures.common).toEqual({ distanceM: 30, face: 'wa80', scoring: 'as-printed' });
    const raised = figures.setUps.find(({ setUpId }) => setUpId === 'raised')!;
    const own = ends.filter((end) => end.setUpId === 'raised');
    const squares = own.reduce((sum, end) => sum + end.squaresMrad2.fletched, 0);
    const df = own.reduce((sum, end) => sum + 2 * (end.fletched - 1), 0);
    // The root mean square of these ends, drawn a little towards what is usual by how much evenings differ.
    expect(Math.abs(Math.log(raised.spread!.sigmaMrad / Math.sqrt(squares / df)))).toBeLessThan(
      0.1,
    );
    const values = own.filter((end) => end.distanceM === 30).flatMap((end) => end.values);
    expect(raised.average!.arrows).toBe(values.length);
    expect(raised.average!.value).toBeCloseTo(values.reduce((a, b) => a + b, 0) / values.length, 12); // prettier-ignore
    expect(raised.ends).toBe(own.length);
  });
});

describe('restoreSheetPage', () => {
  it('holds every reading, the work in order and the cautions, and nothing runs in it', () => {
    const [first, second] = setUps as [(typeof setUps)[0], (typeof setUps)[0]];
    const evil = { ...first, name: '<script>x</script>', notes: 'a & b' };
    const sheet = restoreSheet(bow, evil, second);
    const page = restoreSheetPage(sheet);
    expect(page).not.toContain('<script');
    expect(page).toContain('a &amp; b');
    let at = 0;
    for (const text of [
      // What the work sets stands there.
      ...sheet.values.filter(({ isSet }) => !isSet).map(({ reading }) => reading),
      ...sheet.work,
      ...sheet.cautions,
    ]) {
      // prettier-ignore
      at = page.indexOf(text.replaceAll("'", '&#39;'), at);
      expect([text, at]).not.toEqual([text, -1]);
    }
    expect(page).toContain('@page');
  });
});
