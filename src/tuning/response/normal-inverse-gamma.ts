import gammaln from '@stdlib/math-base-special-gammaln';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/**
 * b | s2 ~ N(mean, s2 precision^-1), s2 ~ InverseGamma(shape, rate): the conjugate law of a linear
 * model whose noise is estimated with its coefficients.
 */
export interface NormalInverseGamma {
  readonly mean: readonly number[];
  /** Inverse of the covariance over s2. */
  readonly precision: readonly (readonly number[])[];
  readonly shape: number;
  readonly rate: number;
}

export interface WeightedObservation {
  readonly x: readonly number[];
  readonly y: number;
  /** Inverse of the noise variance over s2. */
  readonly weight: number;
}

/**
 * The law after observations. The rate is accumulated from residuals and from the pull on the
 * prior, not by subtracting large squares, so it never goes negative.
 */
export function updateNormalInverseGamma(
  prior: NormalInverseGamma,
  observations: readonly WeightedObservation[],
): NormalInverseGamma {
  if (observations.length === 0) return prior;
  const size = prior.mean.length;
  const precision = new Matrix(prior.precision.map((row) => [...row]));
  const pull = precision.mmul(Matrix.columnVector([...prior.mean]));
  for (const { x, y, weight } of observations) {
    for (let i = 0; i < size; i++) {
      const wx = weight * x[i]!;
      pull.set(i, 0, pull.get(i, 0) + wx * y);
      for (let j = 0; j <= i; j++) {
        // Both halves get the very same number: the decomposition insists on symmetry.
        const value = precision.get(i, j) + wx * x[j]!;
        precision.set(i, j, value);
        precision.set(j, i, value);
      }
    }
  }
  const mean = new CholeskyDecomposition(precision).solve(pull).to1DArray();
  let squares = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      squares +=
        (mean[i]! - prior.mean[i]!) * prior.precision[i]![j]! * (mean[j]! - prior.mean[j]!);
    }
  }
  for (const { x, y, weight } of observations) {
    squares += weight * (y - dot(x, mean)) ** 2;
  }
  return {
    mean,
    precision: precision.to2DArray(),
    shape: prior.shape + observations.length / 2,
    rate: prior.rate + squares / 2,
  };
}

/** Log of the density that a prior gave to the observations that made a law of it. */
export function logEvidence(
  prior: NormalInverseGamma,
  law: NormalInverseGamma,
  observations: readonly WeightedObservation[],
): number {
  const weights = observations.reduce((sum, { weight }) => sum + Math.log(weight), 0);
  return (
    (weights - observations.length * Math.log(2 * Math.PI)) / 2 +
    (logDeterminant(prior.precision) - logDeterminant(law.precision)) / 2 +
    prior.shape * Math.log(prior.rate) -
    law.shape * Math.log(law.rate) +
    gammaln(law.shape) -
    gammaln(prior.shape)
  );
}

function logDeterminant(matrix: readonly (readonly number[])[]): number {
  const decomposition = new CholeskyDecomposition(new Matrix(matrix.map((row) => [...row])));
  return decomposition.lowerTriangularMatrix
    .diagonal()
    .reduce((sum, value) => sum + 2 * Math.log(value), 0);
}

/** Inverse of the precision: covariance of the coefficients over s2. */
export function unitCovariance({ precision }: NormalInverseGamma): number[][] {
  const matrix = new Matrix(precision.map((row) => [...row]));
  return new CholeskyDecomposition(matrix).solve(Matrix.eye(precision.length)).to2DArray();
}

export interface StudentT {
  readonly mean: number;
  readonly scale: number;
  readonly df: number;
}

/** Marginal law of the combination x'b: a t on twice the shape. */
export function combination(
  law: NormalInverseGamma,
  covariance: readonly (readonly number[])[],
  x: readonly number[],
): StudentT {
  const variance = x.reduce((sum, xi, i) => sum + xi * dot(covariance[i]!, x), 0);
  return {
    mean: dot(x, law.mean),
    scale: Math.sqrt((law.rate / law.shape) * Math.max(0, variance)),
    df: 2 * law.shape,
  };
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
