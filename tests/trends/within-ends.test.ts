import f from '@stdlib/stats-base-dists-f';
import { Matrix, SVD } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { steadyWithinEnds, withinEnds, type Shot } from '../../src/trends/within-ends.ts';
import { chance } from '../simulation/virtual-archer.ts';
import { numberedShots } from '../simulation/numbered-ends.ts';

/*
 * D. C. Montgomery, Design and Analysis of Experiments (2001), the balanced incomplete block design of
 * four catalysts in four batches of raw material; data read in "Numerical examples for use with A First
 * Course in Linear Model Theory", example 19. Sums of squares, F and adjusted effects as the book
 * prints them, from memory.
 */
const CATALYSTS = [
  [73, 74, null, 71],
  [null, 75, 67, 72],
  [73, 75, 68, null],
  [75, null, 72, 75],
];

const shots: Shot[] = CATALYSTS.flatMap((row, arrow) =>
  row.flatMap((y, end) => (y === null ? [] : [{ end: `b${end}`, arrow: `c${arrow}`, at: [y] }])),
);

describe('the published incomplete block design', () => {
  const fit = withinEnds(shots);

  it('has the adjusted effects -9/8, -7/8, -4/8 and 20/8', () => {
    const effects = [0, 1, 2, 3].map((i) => {
      const weights = [0, 1, 2, 3].map((j) => (i === j ? 1 : 0) - 1 / 4);
      return fit.contrast(weights).mean[0]!;
    });
    [-9 / 8, -7 / 8, -4 / 8, 20 / 8].forEach((effect, i) =>
      expect(effects[i]).toBeCloseTo(effect, 10),
    );
  });

  it('leaves 3.25 on five degrees of freedom, so that F is 11.66', () => {
    expect(fit.squares).toBeCloseTo(3.25, 10);
    expect(fit.df).toBe(5);
    // Total within blocks 26 (81 less 55 between them), of which 22.75 are the catalysts'.
    const ratio = (26 - fit.squares) / 3 / (fit.squares / fit.df);
    expect(ratio).toBeCloseTo(11.667, 3);
    // The book prints P = 0.0107.
    expect(1 - f.cdf(ratio, 3, 5)).toBeCloseTo(0.0107, 4);
  });

  it('tells two catalysts apart with the variance 2k / (lambda a)', () => {
    // k = 3 to a block, lambda = 2 blocks that two of them share, a = 4 catalysts.
    expect(fit.contrast([1, -1, 0, 0]).variance).toBeCloseTo((2 * 3) / (2 * 4), 10);
  });
});

describe('missing arrows and uneven ends', () => {
  const shooting = { arrows: 9, perEnd: 4, ends: 14, sigma: 1, aimSd: 5, missing: 0.2, until: { '3': 5 } }; // prettier-ignore

  it('agree with a column for every end and every arrow, solved by singular values', () => {
    const all = numberedShots(shooting, chance(5));
    const fit = withinEnds(all);
    const ends = [...new Set(all.map(({ end }) => end))];
    const x = new Matrix(
      all.map(({ end, arrow }) => [
        ...ends.map((one) => Number(one === end)),
        ...fit.arrows.map((one) => Number(one === arrow)),
      ]),
    );
    const y = new Matrix(all.map(({ at }) => [...at]));
    const inverse = new SVD(x.transpose().mmul(x)).inverse();
    const solved = inverse.mmul(x.transpose()).mmul(y);
    const squares = Matrix.sub(y, x.mmul(solved)).pow(2).sum();
    expect(fit.squares).toBeCloseTo(squares, 8);
    const rank = new SVD(x).rank;
    expect(fit.df).toBe(all.length - rank);
    const weights = fit.arrows.map((_, i) => (i === 2 ? 1 : i === 4 || i === 5 ? -1 / 2 : 0));
    const row = Matrix.rowVector([...ends.map(() => 0), ...weights]);
    const { mean, variance } = fit.contrast(weights);
    expect(mean[0]).toBeCloseTo(row.mmul(solved).get(0, 0), 8);
    expect(mean[1]).toBeCloseTo(row.mmul(solved).get(0, 1), 8);
    expect(variance).toBeCloseTo(row.mmul(inverse).mmul(row.transpose()).get(0, 0), 8);
  });

  it('make no arrow of what is an aim', () => {
    const all = numberedShots({ ...shooting, sigma: 1e-6 }, chance(6));
    const fit = withinEnds(all);
    for (const i of fit.arrows.keys()) {
      const weights = fit.arrows.map((_, j) => (i === j ? 1 : 0) - 1 / fit.arrows.length);
      expect(Math.hypot(...fit.contrast(weights).mean)).toBeLessThan(1e-5);
    }
  });

  it('keep apart what was never shot together, and say nothing of what was shot alone', () => {
    const together = (end: string, arrows: string) =>
      [...arrows].map((arrow) => ({ end, arrow, at: [arrow.charCodeAt(0), 0] }));
    const fit = withinEnds([
      ...together('a', 'PQ'),
      ...together('b', 'QR'),
      ...together('c', 'XY'),
      ...together('d', 'Z'),
    ]);
    const part = new Map(fit.arrows.map((arrow, i) => [arrow, fit.part[i]]));
    expect(part.get('P')).toBe(part.get('R'));
    expect(part.get('X')).not.toBe(part.get('P'));
    expect(fit.shots[fit.arrows.indexOf('Z')]).toBe(0);
    expect(fit.df).toBe(0);
    expect(withinEnds([]).df).toBe(0);
  });
});

describe('steadyWithinEnds', () => {
  const shooting = { arrows: 6, perEnd: 6, ends: 12, sigma: 1, aimSd: 1.5 };
  /** Of the first arrow beside the others, right. */
  const firstIn = (fit: ReturnType<typeof withinEnds>) =>
    fit.contrast([1, ...fit.arrows.slice(1).map(() => -1 / (fit.arrows.length - 1))]).mean[0]!;

  it('is hardly moved by a wild shot, nor taken for wider', () => {
    const shots = numberedShots(shooting, chance(6));
    const thrown = shots.map((shot, i) => (i === 7 ? { ...shot, at: [shot.at[0] + 30, shot.at[1]] } : shot)); // prettier-ignore
    const arrow = shots[7]!.arrow;
    const named = (all: typeof thrown) => [...all.filter((s) => s.arrow === arrow), ...all.filter((s) => s.arrow !== arrow)]; // prettier-ignore
    const [calm, wild, plain] = [
      steadyWithinEnds(named(shots)),
      steadyWithinEnds(named(thrown)),
      withinEnds(named(thrown)),
    ];
    expect(Math.abs(firstIn(plain) - firstIn(calm))).toBeGreaterThan(2);
    expect(Math.abs(firstIn(wild) - firstIn(calm))).toBeLessThan(0.5);
    expect(wild.squares / calm.squares).toBeLessThan(1.3);
    expect(plain.squares / calm.squares).toBeGreaterThan(3);
  });

  it('is least squares where nothing lies far out', () => {
    const shots = numberedShots({ ...shooting, arrows: 3, perEnd: 3 }, chance(2)).slice(0, 9);
    expect(steadyWithinEnds(shots).squares).toBeCloseTo(withinEnds(shots).squares, 9);
  });
});
