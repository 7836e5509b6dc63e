/** What observations y of rows x with precision matrix P say of a linear model. */
export interface LineSums {
  /** x'Px; only the lower half is filled. */
  readonly xx: readonly (readonly number[])[];
  /** x'Py and y'Py. */
  readonly xy: readonly number[];
  readonly yy: number;
  /** Log of the determinant of P, and how many observations there are. */
  readonly logPrecision: number;
  readonly count: number;
}

export interface Observed {
  readonly rows: readonly (readonly number[])[];
  readonly y: readonly number[];
  /** Inverse variances of the observations' own noise. */
  readonly precisions: readonly number[];
}

/** Laws of the coefficients that share a covariance, one for each prior mean that was asked for. */
export interface ObservedLines {
  readonly covariance: readonly (readonly number[])[];
  readonly lines: readonly {
    readonly mean: readonly number[];
    /** Log of the density that the prior gave to the observations. */
    readonly logEvidence: number;
  }[];
}

/** Places of the observations that share a key, in the order of the keys. */
export function blocksBy(keys: readonly string[]): number[][] {
  return [...new Set(keys)].map((key) => keys.flatMap((one, i) => (one === key ? [i] : [])));
}

/**
 * Sums of squares and products of observations of which those of a block share a level of its own.
 * @param blocks places of the observations that go together, each of them in one block
 * @param blockVariance of the levels
 * @param size number of coefficients
 */
export function lineSums(
  { rows, y, precisions }: Observed,
  blocks: readonly (readonly number[])[],
  { blockVariance, size }: { readonly blockVariance: number; readonly size: number },
): LineSums {
  const xx = Array.from({ length: size }, () => Array<number>(size).fill(0));
  const xy = Array<number>(size).fill(0);
  let [yy, logPrecision] = [0, 0];
  for (const block of blocks) {
    const wx = Array<number>(size).fill(0);
    let [w, wy] = [0, 0];
    for (const i of block) {
      const [x, p, value] = [rows[i]!, precisions[i]!, y[i]!];
      w += p;
      wy += p * value;
      yy += p * value ** 2;
      logPrecision += Math.log(p);
      for (let a = 0; a < size; a++) {
        // Most rows are of nearly nothing but zeros: which session of many an end is of.
        if (x[a] === 0) continue;
        const px = p * x[a]!;
        wx[a] = wx[a]! + px;
        xy[a] = xy[a]! + px * value;
        const sums = xx[a]!;
        for (let b = 0; b <= a; b++) sums[b] = sums[b]! + px * x[b]!;
      }
    }
    // The inverse of a diagonal and a constant block (Sherman and Morrison 1950).
    const k = blockVariance / (1 + blockVariance * w);
    if (k === 0) continue;
    yy -= k * wy ** 2;
    logPrecision -= Math.log(1 + blockVariance * w);
    for (let a = 0; a < size; a++) {
      xy[a] = xy[a]! - k * wx[a]! * wy;
      for (let b = 0; b <= a; b++) xx[a]![b] = xx[a]![b]! - k * wx[a]! * wx[b]!;
    }
  }
  return { xx, xy, yy, logPrecision, count: rows.length };
}

/**
 * The coefficients after observations of known noise, each coefficient normal by itself before.
 * @param sds of the coefficients before
 * @param means before, one law for each of them
 */
export function observeLines(
  sds: readonly number[],
  means: readonly (readonly number[])[],
  { xx, xy, yy, logPrecision, count }: LineSums,
): ObservedLines {
  const size = sds.length;
  const precisions = sds.map((sd) => 1 / sd ** 2);
  const { inverse, logDeterminant } = inverseFactor(xx, precisions);
  const covariance = Array.from({ length: size }, () => Array<number>(size).fill(0));
  for (const [k, row] of inverse.entries()) {
    for (let i = 0; i <= k; i++) {
      for (let j = 0; j <= k; j++) covariance[i]![j] = covariance[i]![j]! + row[i]! * row[j]!;
    }
  }
  const logPrior = precisions.reduce((sum, precision) => sum + Math.log(precision), 0);
  const common = logPrecision + logPrior - logDeterminant - count * Math.log(2 * Math.PI);
  const lines = means.map((before) => {
    const mean = Array<number>(size).fill(0);
    let squares = yy;
    for (let i = 0; i < size; i++) squares += precisions[i]! * before[i]! ** 2;
    for (let k = 0; k < size; k++) {
      const row = inverse[k]!;
      let along = 0;
      for (let i = 0; i <= k; i++) along += row[i]! * (xy[i]! + precisions[i]! * before[i]!);
      squares -= along ** 2;
      for (let i = 0; i <= k; i++) mean[i] = mean[i]! + row[i]! * along;
    }
    return { mean, logEvidence: (common - Math.max(0, squares)) / 2 };
  });
  return { covariance, lines };
}

/** Rows of the inverse of the Cholesky factor of xx with precisions on its diagonal: the covariance is its transpose times it. */
function inverseFactor(
  xx: readonly (readonly number[])[],
  precisions: readonly number[],
): { inverse: number[][]; logDeterminant: number } {
  const factor: number[][] = [];
  const inverse: number[][] = [];
  let logDeterminant = 0;
  for (let i = 0; i < precisions.length; i++) {
    const row: number[] = [];
    for (let j = 0; j < i; j++) {
      let sum = xx[i]![j]!;
      for (let k = 0; k < j; k++) sum -= row[k]! * factor[j]![k]!;
      row.push(sum / factor[j]![j]!);
    }
    // Rounding must not make a precision that the prior alone keeps positive vanish.
    let own = xx[i]![i]! + precisions[i]!;
    for (const value of row) own -= value ** 2;
    row.push(Math.sqrt(Math.max(own, precisions[i]! * 1e-9)));
    logDeterminant += 2 * Math.log(row[i]!);
    factor.push(row);
    const inverted: number[] = [];
    for (let j = 0; j < i; j++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= row[k]! * inverse[k]![j]!;
      inverted.push(sum / row[i]!);
    }
    inverted.push(1 / row[i]!);
    inverse.push(inverted);
  }
  return { inverse, logDeterminant };
}
