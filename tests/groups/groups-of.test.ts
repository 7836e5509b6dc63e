import f from '@stdlib/stats-base-dists-f';
import { describe, expect, it } from 'vitest';
import { massInDisc } from '../../src/groups/bivariate-t.ts';
import { groupsOf } from '../../src/groups/groups-of.ts';
import { groupsSchema } from '../../src/groups/groups.ts';
import { offsetPosterior } from '../../src/groups/offset-posterior.ts';
import { scatterOf } from '../../src/groups/scatter.ts';
import { random } from './random.ts';

type Pair = [number, number];
const FLETCHED: Pair[] = [[-31, 12], [4, 22], [15, -18]]; // prettier-ignore
const BARE: Pair[] = [[40, 55], [66, 31]]; // prettier-ignore
const END = [
  ...FLETCHED.map((mm) => ({ mm, kind: 'fletched' as const })),
  ...BARE.map((mm) => ({ mm, kind: 'bare' as const })),
];

/** Probabilities by integrating the joint posterior of log spread and log ratio on a grid. */
function byBruteForce(
  fletched: Pair[],
  bare: Pair[],
  given: { ratio: number; logSd: number; prior?: { sigmaMm: number; df: number } },
) {
  const [a, b] = [scatterOf(fletched), scatterOf(bare)];
  const d = [b.mean[0] - a.mean[0], b.mean[1] - a.mean[1]] as const;
  const normalCdf = (z: number) => {
    // Numerical integral of the density: independent of the library under test.
    const steps = 400;
    const from = -9;
    let sum = 0;
    for (let i = 0; i < steps; i++) {
      const x = from + ((Math.min(z, 9) - from) * (i + 0.5)) / steps;
      sum += Math.exp((-x * x) / 2);
    }
    return (sum * (Math.min(z, 9) - from)) / steps / Math.sqrt(2 * Math.PI);
  };
  let [mass, high, inside] = [0, 0, 0];
  const radius = 60;
  for (let logS = 0; logS < 8; logS += 0.04) {
    for (let z = -4; z <= 4; z += 0.1) {
      const s2 = Math.exp(2 * logS);
      const r2 = given.ratio ** 2 * Math.exp(2 * given.logSd * z);
      let logP = (-z * z) / 2;
      logP -= 2 * (a.n - 1) * logS + a.sumOfSquares / (2 * s2);
      logP -= 2 * (b.n - 1) * (logS + Math.log(r2) / 2) + b.sumOfSquares / (2 * s2 * r2);
      if (given.prior) {
        logP -= given.prior.df * logS + (given.prior.df * given.prior.sigmaMm ** 2) / (2 * s2);
      }
      const p = Math.exp(logP);
      const variance = s2 * (1 / a.n + r2 / b.n);
      mass += p;
      high += p * normalCdf(d[1] / Math.sqrt(variance));
      inside += p * (1 - Math.exp(-(radius ** 2) / (2 * variance)));
    }
  }
  return { high: high / mass, inside: inside / mass, radius };
}

describe('groupsOf', () => {
  it('prints what the contract asks for', () => {
    const groups = groupsSchema.parse(groupsOf(END, { distanceM: 30 }));
    expect(groups.fletched!.n).toBe(3);
    expect(groups.bare!.n).toBe(2);
    expect(groups.offset!.mm[0]).toBeCloseTo(53 + 4, 9);
    expect(groups.offset!.mrad![1]).toBeCloseTo((43 - 16 / 3) / 30, 9);
    expect(groups.offset!.hotelling!.df).toEqual([2, 2]);
    expect(groups.offset!.probability.high).toBeGreaterThan(0.85);
  });

  it('is the pooled F test on 2(nf + nb - 2) degrees of freedom when the ratio is known', () => {
    const groups = groupsOf(END, { distanceM: 30, bareSpread: { ratio: 1, logSd: 1e-6 } });
    const [a, b] = [scatterOf(FLETCHED), scatterOf(BARE)];
    const s2 = (a.sumOfSquares + b.sumOfSquares) / 6;
    const d2 = groups.offset!.mm[0] ** 2 + groups.offset!.mm[1] ** 2;
    const ratio = d2 / (2 * s2 * (1 / 3 + 1 / 2));
    expect(groups.offset!.pNone).toBeCloseTo(1 - f.cdf(ratio, 2, 6), 6);
    expect(groups.offset!.posterior!.df).toBeCloseTo(6, 3);
    const radiusMm = groups.offset!.region90Mrad!.semiAxes[0] * 30;
    expect(radiusMm ** 2 / (2 * s2 * (5 / 6))).toBeCloseTo(f.quantile(0.9, 2, 6), 4);
  });

  it.each([
    { name: 'no record', given: { ratio: 1.2, logSd: 0.25 } },
    { name: 'wide ratio', given: { ratio: 1.5, logSd: 0.5 } },
    {
      name: 'a record',
      given: { ratio: 1.2, logSd: 0.25, prior: { sigmaMm: 20, df: 30 } },
    },
  ])('agrees with brute-force integration: $name', ({ given }) => {
    const brute = byBruteForce(FLETCHED, BARE, given);
    const posterior = offsetPosterior(scatterOf(FLETCHED), scatterOf(BARE), {
      bareSpread: given,
      spread: 'prior' in given ? given.prior : undefined,
    })!;
    const { offset } = posterior;
    expect(massInDisc(offset, { centre: offset.centre, radius: brute.radius })).toBeCloseTo(
      brute.inside,
      2,
    );
    const groups = groupsOf(END, { bareSpread: given });
    if (!('prior' in given)) expect(groups.offset!.probability.high).toBeCloseTo(brute.high, 2);
    expect(Math.abs(groups.offset!.probability.high - brute.high)).toBeLessThan(0.05);
  });

  it('narrows the region with a record, and only at a known distance', () => {
    const record = { sigmaMrad: 0.7, arrows: 120 };
    const width = (options: Parameters<typeof groupsOf>[1]) =>
      groupsOf(END, { distanceM: 30, ...options }).offset!.region90Mrad!.semiAxes[0];
    // How much wider bare shafts scatter is most of what is not known of an end.
    const bareSpread = { ratio: 1.2, logSd: 0.2 };
    expect(width({ record })).toBeLessThan(width({}));
    expect(width({ record: { ...record, bareSpread } })).toBeLessThan(0.9 * width({ record }));
    expect(groupsOf(END, { record }).offset!.posterior).toEqual(groupsOf(END).offset!.posterior);
  });

  it.each([1, 2])('covers the true offset nine times in ten at 3 + 2, bare %s as wide', (ratio) => {
    const { normal } = random(3);
    const ends = 1000;
    let inside = 0;
    for (let i = 0; i < ends; i++) {
      const shots = (n: number, sd: number, x: number, y: number) =>
        Array.from({ length: n }, (): Pair => [x + sd * normal(), y + sd * normal()]);
      const groups = groupsOf(
        [
          ...shots(3, 40, 5, 9).map((mm) => ({ mm, kind: 'fletched' as const })),
          ...shots(2, 40 * ratio, 35, -11).map((mm) => ({ mm, kind: 'bare' as const })),
        ],
        { distanceM: 20 },
      );
      const { centre, semiAxes } = groups.offset!.region90Mrad!;
      if (Math.hypot(centre[0] - 1.5, centre[1] + 1) <= semiAxes[0]) inside++;
    }
    expect(inside / ends).toBeGreaterThan(0.875);
    expect(inside / ends).toBeLessThan(0.93);
  });

  it('places arrows in one hole no closer than a photo can', () => {
    const at = (x: number, kind: 'fletched' | 'bare') => ({ mm: [x, 5] as const, kind });
    const arrows = [at(5, 'fletched'), at(5, 'fletched'), at(5, 'fletched'), at(45, 'bare'), at(46, 'bare')]; // prettier-ignore
    const { region90Mrad } = groupsOf(arrows, { distanceM: 30 }).offset!;
    // Two means of marks that are each placed to a millimetre.
    expect(region90Mrad!.semiAxes[0] * 30).toBeGreaterThan(
      2 * Math.hypot(1 / Math.sqrt(3), 1 / Math.sqrt(2)),
    );
  });

  it('is calm about empty, single and identical arrows', () => {
    expect(groupsOf([])).toEqual({ fletched: null, bare: null, offset: null });
    expect(groupsOf([{ mm: [1, 2], kind: 'unknown' }]).fletched).toBeNull();
    const one = groupsOf(
      [
        { mm: [0, 0], kind: 'fletched' },
        { mm: [30, 40], kind: 'bare' },
      ],
      { distanceM: 10 },
    );
    expect(one.offset).toMatchObject({
      mm: [30, 40],
      mrad: [3, 4],
      region90Mrad: null,
      probability: { high: 0.5, right: 0.5 },
      hotelling: null,
    });
    const recorded = groupsOf(
      [
        { mm: [0, 0], kind: 'fletched' },
        { mm: [30, 40], kind: 'bare' },
      ],
      { distanceM: 10, record: { sigmaMrad: 1, arrows: 60 } },
    );
    expect(recorded.offset!.probability.high).toBeGreaterThan(0.9);
    const same = groupsOf(
      [0, 1, 2, 3].map((i) => ({ mm: [7, 7] as Pair, kind: i < 2 ? 'fletched' : 'bare' })),
      { distanceM: 10 },
    );
    // No photo and no hand places a mark closer than a millimetre.
    expect(same.offset!.region90Mrad!.semiAxes[0]).toBeGreaterThan(0.1);
    expect(groupsSchema.safeParse(same).success).toBe(true);
  });
});

describe('massInDisc', () => {
  it('agrees with the closed form when the disc is about the centre', () => {
    const t = { centre: [2, -1] as const, scale: 1.4, df: 5 };
    const radius = 2.2;
    const closed = f.cdf(radius ** 2 / (2 * 1.4 ** 2), 2, 5);
    expect(massInDisc(t, { centre: t.centre, radius })).toBeCloseTo(closed, 4);
  });

  it('agrees with sampling when it is not', () => {
    const { normal } = random(8);
    const t = { centre: [2, -1] as const, scale: 1.4, df: 4 };
    const disc = { centre: [0, 1] as const, radius: 1.5 };
    const draws = 200_000;
    let inside = 0;
    for (let i = 0; i < draws; i++) {
      let chi = 0;
      for (let k = 0; k < 4; k++) chi += normal() ** 2;
      const s = 1.4 / Math.sqrt(chi / 4);
      if (Math.hypot(2 + s * normal(), -2 + s * normal()) <= 1.5) inside++;
    }
    expect(Math.abs(massInDisc(t, disc) - inside / draws)).toBeLessThan(0.004);
  });
});
