import { describe, expect, it } from 'vitest';
import { suggestKinds } from '../../src/groups/suggest-kinds.ts';
import { random } from './random.ts';

type Pair = [number, number];

describe('suggestKinds', () => {
  it('finds two bare shafts apart from three fletched arrows', () => {
    const marks = [[0, 0], [70, 60], [8, -5], [-6, 9], [75, 52]].map((mm) => ({ mm: mm as Pair })); // prettier-ignore
    const kinds = suggestKinds(marks, { fletched: 3, bare: 2, distanceM: 30 });
    expect(kinds.map((k) => k.kind)).toEqual(['fletched', 'bare', 'fletched', 'fletched', 'bare']);
    expect(Math.min(...kinds.map((k) => k.probability))).toBeGreaterThan(0.8);
  });

  it('is as sure as it is right', () => {
    const { normal, uniform } = random(21);
    // Bows from tuned to new, each doubling of the offset six tenths as likely as the one before.
    const spreads = [0.175, 0.35, 0.7, 1.4, 2.8];
    const weights = spreads.map((wide) => wide ** -0.75);
    const all = weights.reduce((sum, weight) => sum + weight, 0);
    const wideOf = (u: number) => {
      let left = u * all;
      return spreads.find((_, i) => (left -= weights[i]!) < 0) ?? spreads[0]!;
    };
    let [said, right, count] = [0, 0, 0];
    for (let end = 0; end < 600; end++) {
      const wide = wideOf(uniform());
      const d = [wide * normal(), wide * normal()] as const;
      const marks = Array.from({ length: 7 }, (_, i) => {
        const isBare = i >= 4;
        const sd = isBare ? 1.2 : 1;
        const mm: Pair = isBare
          ? [20 * (d[0] + sd * normal()), 20 * (d[1] + sd * normal())]
          : [20 * normal(), 20 * normal()];
        return { mm };
      });
      suggestKinds(marks, { fletched: 4, bare: 3 }).forEach((k, i) => {
        said += k.probability;
        right += (k.kind === 'bare') === i >= 4 ? 1 : 0;
        count++;
      });
    }
    expect(Math.abs(said / count - right / count)).toBeLessThan(0.03);
    // Little is to be told of bows in tune; by chance alone it would be 0.51.
    expect(right / count).toBeGreaterThan(0.55);
  });

  it('does not pretend to know which of two equal groups is bare', () => {
    const marks = [[-50, 0], [-55, 5], [-48, -6], [50, 0], [55, 5], [48, -6]].map((mm) => ({ mm: mm as Pair })); // prettier-ignore
    const kinds = suggestKinds(marks, { fletched: 3, bare: 3 });
    for (const { probability } of kinds) expect(probability).toBeCloseTo(0.5, 1);
  });

  it('listens to the looks of standing arrows', () => {
    const marks = [[-50, 0], [-55, 5], [50, 0], [55, 5]].map((mm, i) => ({ mm: mm as Pair, looksBare: i < 2 ? 0.9 : 0.1 })); // prettier-ignore
    const kinds = suggestKinds(marks, { fletched: 2, bare: 2 });
    expect(kinds.map((k) => k.kind)).toEqual(['bare', 'bare', 'fletched', 'fletched']);
    expect(kinds[0]!.probability).toBeGreaterThan(0.95);
  });

  it('copes with missed arrows, extra marks, many marks and none', () => {
    const marks = [[0, 0], [4, 3], [80, 60]].map((mm) => ({ mm: mm as Pair })); // prettier-ignore
    const missed = suggestKinds(marks, { fletched: 3, bare: 2 });
    expect(missed.map((k) => k.kind)).toEqual(['fletched', 'fletched', 'bare']);
    expect(suggestKinds(marks, { fletched: 1, bare: 1 })).toHaveLength(3);
    expect(suggestKinds([], { fletched: 3, bare: 2 })).toEqual([]);
    expect(suggestKinds(marks, { fletched: 3, bare: 0 }).every((k) => k.kind === 'fletched')).toBe(true); // prettier-ignore
    const { normal } = random(2);
    const many = Array.from({ length: 24 }, (_, i) => ({
      mm: [10 * normal() + (i < 8 ? 120 : 0), 10 * normal()] as Pair,
    }));
    const kinds = suggestKinds(many, { fletched: 16, bare: 8 });
    expect(kinds.map((k) => k.kind === 'bare')).toEqual(many.map((_, i) => i < 8));
    expect(suggestKinds(many, { fletched: 16, bare: 8 })).toEqual(kinds);
  });
});
