import { determinant, inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { lineSums, observeLines } from '../../../src/tuning/response/gaussian-line.ts';
import { random } from '../../groups/random.ts';

const { normal } = random(5);
const rows = Array.from({ length: 7 }, () => [1, normal(), 3 * normal()]);
const y = rows.map(() => 2 * normal());
const precisions = rows.map((_, i) => 0.5 + i / 4);
const blocks = [[0, 1, 2], [3, 5], [4, 6]]; // prettier-ignore
const blockVariance = 0.7;
const sds = [2, 0.5, 0.3];
const means = [[0, 0.4, -0.2], [0, -0.4, -0.2]]; // prettier-ignore

/** The same by the textbook: whole matrices, no shortcut. */
function bluntly(mean: readonly number[]) {
  const noise = Matrix.diag(precisions.map((p) => 1 / p));
  for (const block of blocks)
    for (const i of block) for (const j of block) noise.set(i, j, noise.get(i, j) + blockVariance);
  const x = new Matrix(rows);
  const prior = Matrix.diag(sds.map((sd) => sd ** 2));
  const b = Matrix.columnVector([...mean]);
  const covariance = inverse(
    Matrix.add(inverse(prior), x.transpose().mmul(inverse(noise)).mmul(x)),
  );
  const pull = Matrix.add(
    inverse(prior).mmul(b),
    x.transpose().mmul(inverse(noise)).mmul(Matrix.columnVector(y)),
  );
  const marginal = Matrix.add(noise, x.mmul(prior).mmul(x.transpose()));
  const off = Matrix.sub(Matrix.columnVector(y), x.mmul(b));
  const squares = off.transpose().mmul(inverse(marginal)).mmul(off).get(0, 0);
  return {
    mean: covariance.mmul(pull).to1DArray(),
    covariance: covariance.to2DArray(),
    logEvidence:
      -(squares + Math.log(determinant(marginal)) + y.length * Math.log(2 * Math.PI)) / 2,
  };
}

describe('observeLines', () => {
  it('is the normal law given the observations, with its evidence, for each prior mean', () => {
    const sums = lineSums({ rows, y, precisions }, blocks, { blockVariance, size: 3 });
    const { covariance, lines } = observeLines(sds, means, sums);
    for (const [i, mean] of means.entries()) {
      const expected = bluntly(mean);
      expected.mean.forEach((value, k) => expect(lines[i]!.mean[k]).toBeCloseTo(value, 9));
      expected.covariance.flat().forEach((value, k) => expect(covariance.flat()[k]).toBeCloseTo(value, 9)); // prettier-ignore
      expect(lines[i]!.logEvidence).toBeCloseTo(expected.logEvidence, 9);
    }
  });

  it('is the prior where nothing was observed', () => {
    const sums = lineSums({ rows: [], y: [], precisions: [] }, [], { blockVariance, size: 3 });
    const { covariance, lines } = observeLines(sds, means, sums);
    expect(lines[0]!.logEvidence).toBeCloseTo(0, 12);
    lines[1]!.mean.forEach((value, k) => expect(value).toBeCloseTo(means[1]![k]!, 12));
    covariance.forEach((row, i) => expect(row[i]).toBeCloseTo(sds[i]! ** 2, 12));
  });
});
