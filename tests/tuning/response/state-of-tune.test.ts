import student from '@stdlib/stats-base-dists-t';
import normal from '@stdlib/stats-base-dists-normal';
import { describe, expect, it } from 'vitest';
import { massAboveValue, meanOf } from '../../../src/tuning/response/axis-law.ts';
import {
  logEvidence,
  updateNormalInverseGamma,
  type NormalInverseGamma,
} from '../../../src/tuning/response/normal-inverse-gamma.ts';
import {
  SPREAD_AT_FIRST,
  SPREAD_AT_FIRST_CONJUGATE,
} from '../../../src/tuning/response/spread-at-first.ts';
import { STATES_OF_TUNE, withStateOfTune } from '../../../src/tuning/response/state-of-tune.ts';

/** The same posterior by brute force: prior density times likelihood on a fine grid. */
function byGrid(seen: { mean: number; scale: number; df: number }, wanted: number) {
  const step = 0.005;
  const places = Array.from({ length: 16_001 }, (_, i) => wanted - 40 + i * step);
  const densities = places.map(
    (place) =>
      STATES_OF_TUNE.reduce(
        (sum, { sdMrad, weight }) => sum + weight * normal.pdf(place, wanted, sdMrad),
        0,
      ) * student.pdf((place - seen.mean) / seen.scale, seen.df),
  );
  const all = densities.reduce((a, b) => a + b, 0);
  return {
    mean: places.reduce((sum, place, i) => sum + place * densities[i]!, 0) / all,
    above: (value: number) =>
      places.reduce((sum, place, i) => sum + (place > value ? densities[i]! : 0), 0) / all,
  };
}

describe('one end with the states of tune in mind', () => {
  it.each([
    { mean: 2.5, scale: 1, df: 5.6, wanted: 0 },
    { mean: -1.2, scale: 1.4, df: 6, wanted: 0.5 },
    { mean: 9, scale: 2.2, df: 3, wanted: 0 },
    { mean: 0.3, scale: 0.4, df: 200, wanted: 0 },
  ])('is what brute-force integration finds: $mean, $scale, $df', ({ wanted, ...seen }) => {
    const law = withStateOfTune(seen, wanted);
    const grid = byGrid(seen, wanted);
    expect(Math.abs(meanOf(law) - grid.mean)).toBeLessThan(0.02);
    for (const value of [wanted - 0.7, wanted, wanted + 0.7, wanted + 2]) {
      expect(Math.abs(massAboveValue(law, value) - grid.above(value))).toBeLessThan(0.005);
    }
  });
});

describe('one end of an archer of whom nothing is known', () => {
  /** Offset and log spread on a grid: both priors times the likelihood of three and two arrows. */
  function byGridOfSpreads(seen: { mean: number; scale: number; df: number }, perSpread: number) {
    const { medianMrad, logSd } = SPREAD_AT_FIRST;
    const places = Array.from({ length: 1601 }, (_, i) => -16 + i / 50);
    const densities = places.map(() => 0);
    for (let logSigma = Math.log(0.02); logSigma < Math.log(50); logSigma += 0.02) {
      const sigma = Math.exp(logSigma);
      const rms = seen.scale / perSpread;
      const ofSpread =
        normal.pdf(logSigma, Math.log(medianMrad), logSd) *
        sigma ** -seen.df *
        Math.exp((-seen.df * rms ** 2) / (2 * sigma ** 2));
      for (const [i, place] of places.entries()) {
        densities[i]! += ofSpread * normal.pdf(seen.mean, place, sigma * perSpread);
      }
    }
    const weighed = densities.map(
      (density, i) =>
        density *
        STATES_OF_TUNE.reduce((sum, { sdMrad, weight }) => sum + weight * normal.pdf(places[i]!, 0, sdMrad), 0), // prettier-ignore
    );
    const all = weighed.reduce((a, b) => a + b, 0);
    return (value: number) =>
      weighed.reduce((sum, density, i) => sum + (places[i]! > value ? density : 0), 0) / all;
  }

  it.each([
    { mean: 0.9, scale: 0.25, df: 6 },
    { mean: 2.5, scale: 1.1, df: 6 },
    { mean: -4, scale: 3.5, df: 6 },
    { mean: 1.2, scale: 0.4, df: 30 },
  ])('weighs spreads as brute-force integration does: $mean, $scale, $df', (seen) => {
    const perSpread = Math.sqrt(1 / 3 + 1.44 / 2);
    const law = withStateOfTune(seen, 0, perSpread);
    const above = byGridOfSpreads(seen, perSpread);
    for (const value of [-0.705, 0.005, 0.705]) {
      expect(Math.abs(massAboveValue(law, value) - above(value))).toBeLessThan(0.01);
    }
  });

  it('has a conjugate form of the same mean and about the same width', () => {
    const { sigmaMrad, df } = SPREAD_AT_FIRST_CONJUGATE;
    // The log of a chi-square on two degrees of freedom: mean log 2 less Euler's constant, variance pi^2 / 6.
    expect(df).toBe(2);
    const meanLog = Math.log(sigmaMrad) + 0.5772156649 / 2;
    expect(Math.exp(meanLog)).toBeCloseTo(SPREAD_AT_FIRST.medianMrad, 2);
    expect(Math.abs(Math.PI / Math.sqrt(24) - SPREAD_AT_FIRST.logSd)).toBeLessThan(0.05);
  });

  it('is not sure of a direction because a few arrows lie together', () => {
    const seen = { mean: 0.9, scale: 0.25, df: 6 };
    expect(massAboveValue(withStateOfTune(seen, 0), 0)).toBeGreaterThan(0.95);
    const perSpread = Math.sqrt(1 / 3 + 1.44 / 2);
    expect(massAboveValue(withStateOfTune(seen, 0, perSpread), 0)).toBeLessThan(0.95);
  });
});

describe('evidence of the conjugate law', () => {
  it('is the density that the prior gave to one observation', () => {
    // y = b + noise of variance s2 / weight: y is Student t with 2 * shape degrees of freedom.
    const prior: NormalInverseGamma = { mean: [0.4], precision: [[2]], shape: 3, rate: 1.7 };
    for (const y of [-2, 0.1, 0.4, 3]) {
      const seen = [{ x: [1], y, weight: 1.5 }];
      const scale = Math.sqrt((prior.rate / prior.shape) * (1 / 1.5 + 1 / 2));
      const density = student.pdf((y - 0.4) / scale, 2 * prior.shape) / scale;
      const law = updateNormalInverseGamma(prior, seen);
      expect(logEvidence(prior, law, seen)).toBeCloseTo(Math.log(density), 8);
    }
  });
});
