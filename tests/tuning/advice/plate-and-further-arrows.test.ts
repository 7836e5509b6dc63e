import { describe, expect, it } from 'vitest';
import { furtherArrows, FURTHER_AT_MOST } from '../../../src/tuning/advice/further-arrows.ts';
import { PLATE, plateRadiusMrad } from '../../../src/tuning/advice/plate.ts';

it('a plate of 270 mm at 30 m is 4.5 mrad in radius (common practice, no published source)', () => {
  expect(plateRadiusMrad()).toBe(4.5);
  // As an angle it is the same at every distance: 450 mm wide at 50 m.
  expect(2 * plateRadiusMrad() * 50).toBe(450);
  expect(plateRadiusMrad({ ...PLATE, atM: 15 })).toBe(9);
});

describe('furtherArrows', () => {
  /** One coordinate as 3 + 2 arrows of spread 1 alone tell it. */
  const lawAt = (mean: number, scale = Math.sqrt(1 / 3 + 1 / 2)) => ({ parts: [{ weight: 1, law: { mean, scale, df: Infinity } }] }); // prettier-ignore
  const question = { fletched: 3, bare: 2, deadZone: 0, sigma: 1, df: 6, bareRatio: 1 };

  it('asks for more the smaller the offset is beside the spread', () => {
    const needed = [1.6, 1.4, 1.2].map((estimate) => {
      const { fletched, bare } = furtherArrows({ ...question, laws: [lawAt(estimate)] });
      return fletched + bare;
    });
    expect(needed[0]!).toBeLessThan(needed[1]!);
    expect(needed[1]!).toBeLessThan(needed[2]!);
  });

  it('shares arrows so that both means are as well known: even where kinds scatter alike', () => {
    const { fletched, bare } = furtherArrows({ ...question, laws: [lawAt(1)] });
    expect(Math.abs(3 + fletched - (2 + bare))).toBeLessThanOrEqual(1);
    // The variance of a difference of means is least where n is shared as the spreads are
    // (Neyman's allocation, 1934): three bare to two fletched at a ratio of 1.5.
    const wide = furtherArrows({ ...question, laws: [lawAt(1)], bareRatio: 1.5 });
    expect((2 + wide.bare) / (3 + wide.fletched)).toBeCloseTo(1.5, 0);
  });

  it('says how likely the most it ever asks for would settle what they cannot', () => {
    const { fletched, bare, probability } = furtherArrows({ ...question, laws: [lawAt(0.05)] });
    expect(fletched + bare).toBe(FURTHER_AT_MOST);
    expect(probability).toBeLessThan(0.8);
    expect(probability).toBeGreaterThan(0);
  });

  it('asks for fewer where a record tells the spread than where these few arrows must', () => {
    const laws = [lawAt(1.4)];
    const [few, known] = [false, true].map((isOnRecord) => furtherArrows({ ...question, laws, isOnRecord })); // prettier-ignore
    expect(known!.fletched + known!.bare).toBeLessThan(few!.fletched + few!.bare);
    expect([few!.isEnough, known!.isEnough]).toEqual([true, true]);
    expect(furtherArrows({ ...question, laws: [lawAt(0.05)] }).isEnough).toBe(false);
  });

  it('settles an offset near what is wanted as level, where a dead zone is known', () => {
    const level = furtherArrows({ ...question, laws: [lawAt(0.05)], sigma: 0.5, deadZone: 0.7 });
    const open = furtherArrows({ ...question, laws: [lawAt(0.05)], sigma: 0.5 });
    expect(level.fletched + level.bare).toBeLessThan(open.fletched + open.bare);
  });
});
