import { inverse, Matrix } from 'ml-matrix';
import student from '@stdlib/stats-base-dists-t';
import { describe, expect, it } from 'vitest';
import {
  combination,
  unitCovariance,
  updateNormalInverseGamma,
  type NormalInverseGamma,
} from '../../../src/tuning/response/normal-inverse-gamma.ts';

function observe(rows: number[][], y: number[]) {
  return rows.map((x, i) => ({ x, y: y[i]!, weight: 1 }));
}

function flat(size: number): NormalInverseGamma {
  const nothing = Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (__, j) => (i === j ? 1e-14 : 0)),
  );
  return { mean: Array<number>(size).fill(0), precision: nothing, shape: -size / 2, rate: 0 };
}

function interval(law: NormalInverseGamma, index: number): [number, number] {
  const x = law.mean.map((_, i) => (i === index ? 1 : 0));
  const { mean, scale, df } = combination(law, unitCovariance(law), x);
  const half = student.quantile(0.975, df) * scale;
  return [mean - half, mean + half];
}

describe('updateNormalInverseGamma', () => {
  // Hoff 2009, section 9: oxygen uptake, data and prior from the book's public R code.
  const age = [23, 22, 22, 25, 27, 20, 31, 23, 27, 28, 22, 24];
  const uptake = [-0.87, -10.74, -3.27, -1.97, 7.5, -7.25, 17.05, 4.96, 10.4, 11.05, 0.26, 2.51];
  const design = age.map((a, i) => (i < 6 ? [1, 0, a, 0] : [1, 1, a, a]));

  it("gives the least-squares coefficients quoted in the code to Hoff's book", () => {
    const law = updateNormalInverseGamma(flat(4), observe(design, uptake));
    [-51.2939459, 13.1070904, 2.0947027, -0.3182438].forEach((b, i) => {
      expect(law.mean[i]).toBeCloseTo(b, 4);
    });
    expect(law.rate / law.shape).toBeCloseTo(8.5424767, 5);
  });

  it("gives the posterior of Hoff's g-prior", () => {
    const x = new Matrix(design);
    const g = 12;
    const prior: NormalInverseGamma = {
      mean: [0, 0, 0, 0],
      precision: x.transpose().mmul(x).div(g).to2DArray(),
      shape: 0.5,
      rate: 4.27,
    };
    const law = updateNormalInverseGamma(prior, observe(design, uptake));
    // Means as in the book (-47.35, 12.10, ...: from memory), digits computed independently.
    [-47.3482578, 12.0988527, 1.93357173, -0.29376349].forEach((b, i) => {
      expect(law.mean[i]).toBeCloseTo(b, 6);
    });
    expect(law.shape).toBe(6.5);
    expect(law.rate).toBeCloseTo(66.2508794, 6);
    const [low, high] = interval(law, 2);
    expect(low).toBeCloseTo(0.7402, 4);
    expect(high).toBeCloseTo(3.126943, 5);
    const covariance = unitCovariance(law);
    // Posterior standard deviations computed independently; variance of a t is scale2 df/(df-2).
    [13.97835, 17.98259, 0.600514, 0.741356].forEach((sd, i) => {
      const variance = (covariance[i]![i]! * law.rate) / law.shape;
      expect(Math.sqrt((variance * 13) / 11)).toBeCloseTo(sd, 4);
    });
  });

  it('gives the posterior of the midge wings (Hoff 2009, chapter 5; prior from memory)', () => {
    const wings = [1.64, 1.7, 1.72, 1.74, 1.82, 1.82, 1.82, 1.9, 2.08];
    const prior = { mean: [1.9], precision: [[1]], shape: 0.5, rate: 0.005 };
    const law = updateNormalInverseGamma(prior, observe(wings.map(() => [1]), wings)); // prettier-ignore
    expect(law.mean[0]).toBeCloseTo(1.814, 9);
    expect((2 * law.rate) / (2 * law.shape)).toBeCloseTo(0.015324, 6);
    const [low, high] = interval(law, 0);
    expect(low).toBeCloseTo(1.726778, 5);
    expect(high).toBeCloseTo(1.901222, 5);
  });

  it('agrees with an independent computation of clicks and offset', () => {
    const clicks = [-4, -2, 0, 2, 4].map((c) => [1, c]);
    const prior = { mean: [0, 2], precision: [[1 / 16, 0], [0, 25]], shape: 2, rate: 25 }; // prettier-ignore
    const law = updateNormalInverseGamma(prior, observe(clicks, [-9.5, -5.2, 0.8, 3.9, 10.3]));
    expect(law.mean[0]).toBeCloseTo(0.05925926, 7);
    expect(law.mean[1]).toBeCloseTo(2.26769231, 7);
    expect(law.shape).toBe(4.5);
    expect(law.rate).toBeCloseTo(27.477188, 5);
    const [low, high] = interval(law, 1);
    expect(low).toBeCloseTo(1.574353, 5);
    expect(high).toBeCloseTo(2.961032, 5);
  });

  it("is least squares in the limit of no prior: NIST's certified Norris line", () => {
    // NIST StRD, Norris, certified values.
    const x = [0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5, 11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5]; // prettier-ignore
    const y = [0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2]; // prettier-ignore
    const law = updateNormalInverseGamma(flat(2), observe(x.map((v) => [1, v]), y)); // prettier-ignore
    expect(law.mean[0]).toBeCloseTo(-0.262323073774029, 9);
    expect(law.mean[1]).toBeCloseTo(1.00211681802045, 11);
    const s2 = law.rate / law.shape;
    expect(Math.sqrt(s2)).toBeCloseTo(0.884796396144373, 9);
    const covariance = unitCovariance(law);
    expect(Math.sqrt(s2 * covariance[0]![0]!)).toBeCloseTo(0.232818234301152, 9);
    expect(Math.sqrt(s2 * covariance[1]![1]!)).toBeCloseTo(0.000429796848199937, 11);
  });

  it('learns the same one by one as all at once, and weights are repeats', () => {
    const prior = { mean: [0, 1], precision: [[0.1, 0.02], [0.02, 0.3]], shape: 1, rate: 2 }; // prettier-ignore
    const all = observe([[1, 2], [1, -1], [1, 3]], [2.2, -0.7, 3.5]); // prettier-ignore
    const batch = updateNormalInverseGamma(prior, all);
    let one: NormalInverseGamma = prior;
    for (const observation of all) one = updateNormalInverseGamma(one, [observation]);
    expect(one.rate).toBeCloseTo(batch.rate, 10);
    one.mean.forEach((value, i) => expect(value).toBeCloseTo(batch.mean[i]!, 10));
    const twice = updateNormalInverseGamma(prior, [{ x: [1, 2], y: 3, weight: 2 }]);
    const repeated = updateNormalInverseGamma(prior, observe([[1, 2], [1, 2]], [3, 3])); // prettier-ignore
    twice.mean.forEach((value, i) => expect(value).toBeCloseTo(repeated.mean[i]!, 10));
  });

  it('agrees with integrating the posterior on a grid', () => {
    // One coefficient: p(b) from brute force over b and log s2.
    const prior = { mean: [0.5], precision: [[2]], shape: 1.5, rate: 1 };
    const data = observe([[1], [2], [-1]], [1.1, 1.4, -0.2]);
    const law = updateNormalInverseGamma(prior, data);
    let [mass, above] = [0, 0];
    for (let b = -4; b <= 5; b += 0.01) {
      for (let logS2 = -6; logS2 < 5; logS2 += 0.05) {
        const s2 = Math.exp(logS2);
        let logP = -1.5 * logS2 - 1 / s2 - logS2 / 2 - (2 * (b - 0.5) ** 2) / (2 * s2);
        for (const { x, y } of data) logP -= logS2 / 2 + (y - x[0]! * b) ** 2 / (2 * s2);
        mass += Math.exp(logP);
        if (b > 0.805) above += Math.exp(logP);
      }
    }
    const { mean, scale, df } = combination(law, inverse(new Matrix([[law.precision[0]![0]!]])).to2DArray(), [1]); // prettier-ignore
    expect(student.cdf((mean - 0.805) / scale, df)).toBeCloseTo(above / mass, 3);
  });
});
