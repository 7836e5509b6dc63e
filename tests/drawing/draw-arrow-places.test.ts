import { describe, expect, it } from 'vitest';
import { drawArrowPlaces } from '../../src/drawing/draw-arrow-places.ts';
import type { ArrowPlaces } from '../../src/trends/arrow-places.ts';
import { GERMAN } from '../../src/words/german.ts';
import { METRIC } from '../../src/words/units.ts';
import { wordsOf } from '../../src/words/words.ts';

const arrow = { shots: 12, half90Mrad: 0.6, pByChance: 0.5, moreShots: null };
const PLACES: ArrowPlaces = {
  kind: 'fletched',
  ends: 12,
  arrows: [
    { ...arrow, arrowNumber: '3', mrad: [0.4, -0.2], verdict: 'with the group' },
    { ...arrow, arrowNumber: '7', mrad: [-5, 3], verdict: 'apart', pByChance: 0.001 },
  ],
  sigmaMrad: 1.2,
  distanceM: 30,
  meaning: '',
  cautions: [],
};

const textsOf = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text!); // prettier-ignore

describe('the plot of arrows by their numbers', () => {
  it('has a figure for each arrow, and says which land apart', () => {
    const svg = drawArrowPlaces(PLACES);
    expect(textsOf(svg)).toEqual(expect.arrayContaining(['3', '7']));
    expect(svg).toContain('aria-label="Arrows by their numbers: 7 apart"');
    expect(textsOf(svg)).toContain('left, mm from the others, right');
    expect(textsOf(svg)).toContain('100');
  });

  it('speaks the language and measures in the unit that are chosen', () => {
    const units = { ...METRIC, length: 'in', distance: 'yd' } as const;
    const texts = textsOf(
      drawArrowPlaces(PLACES, { words: wordsOf({ language: 'de', catalogue: GERMAN, units }) }),
    );
    expect(texts).toContain('links, in von den anderen, rechts');
    // Arrow 7 lies 150 mm aside, 5.9 in.
    const figures = texts.map(Number).filter((figure) => !Number.isNaN(figure));
    expect(Math.max(...figures)).toBeLessThanOrEqual(8);
  });
});
