import { describe, expect, it } from 'vitest';
import { bareRatioOf, possibleSpreads } from '../../../src/tuning/response/spreads.ts';
import type { ResponseEnd } from '../../../src/tuning/response/response-ends.ts';

/** Ends of three fletched arrows and two bare shafts whose scatter is just what these spreads expect. */
function ends(count: number, sigma: number, ratio: number): ResponseEnd[] {
  return Array.from({ length: count }, (_, i) => ({
    id: `e${i}`,
    sessionId: 's',
    label: '',
    amounts: {},
    offsetMrad: [0, 0] as const,
    fletched: 3,
    bare: 2,
    squaresMrad2: { fletched: 4 * sigma ** 2, bare: 2 * (ratio * sigma) ** 2 },
  }));
}

const middleOf = (spreads: ReturnType<typeof possibleSpreads>) => spreads[1]!.sigmaMrad;
const widthOf = (spreads: ReturnType<typeof possibleSpreads>) =>
  Math.log(spreads[2]!.sigmaMrad / spreads[0]!.sigmaMrad);

describe('possibleSpreads', () => {
  it('goes from what archers shoot to what these ends show', () => {
    expect(middleOf(possibleSpreads([], 1.2, undefined))).toBeCloseTo(2, 6);
    const few = middleOf(possibleSpreads(ends(1, 1, 1.2), 1.2, undefined));
    const many = middleOf(possibleSpreads(ends(20, 1, 1.2), 1.2, undefined));
    expect(few).toBeGreaterThan(many);
    expect(many).toBeCloseTo(1, 1);
  });

  it('counts the record or the ends themselves, never both', () => {
    const list = ends(20, 1, 1.2);
    const record = { sigmaMrad: 1, arrows: 60, dayLogSd: 0.1 };
    const alone = possibleSpreads(list, 1.2, undefined);
    const weaker = possibleSpreads(list, 1.2, record);
    expect(widthOf(weaker)).toBeCloseTo(widthOf(alone), 9);
    const stronger = possibleSpreads(list.slice(0, 2), 1.2, record);
    expect(widthOf(stronger)).toBeLessThan(widthOf(possibleSpreads(list.slice(0, 2), 1.2, undefined))); // prettier-ignore
    // The log of a spread on so many degrees of freedom has a variance of 1 / (2 df).
    const df = 1 / (2 * (1 / (4 * 59) + 0.1 ** 2));
    expect(widthOf(stronger)).toBeCloseTo((2 * 1.6) / Math.sqrt(2 * df), 6);
  });
});

describe('bareRatioOf', () => {
  it('learns from the ends how much wider bare shafts scatter, or takes it from the record', () => {
    expect(bareRatioOf([], undefined)).toBe(1.2);
    const seen = bareRatioOf(ends(30, 1, 2), undefined);
    expect(seen).toBeGreaterThan(1.7);
    expect(seen).toBeLessThan(2);
    const record = { sigmaMrad: 1, arrows: 60, dayLogSd: 0.1, bareSpread: { ratio: 1.4, logSd: 0.1 } }; // prettier-ignore
    expect(bareRatioOf(ends(30, 1, 2), record)).toBe(1.4);
  });
});
