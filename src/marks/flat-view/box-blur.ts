/**
 * Two passes of a running mean over 2 * reach + 1 pixels each way: a small smooth kernel. Beyond the
 * picture its rim goes on.
 *
 * @param image `side` x `side` values, row by row; left as it is.
 */
export function boxBlur(image: Float32Array, side: number, reach: number): Float32Array {
  if (reach < 1) return image.slice();
  if (reach === 1) return blurOfFive(image, side);
  const out = image.slice();
  const across = new Float32Array(side * side);
  const width = 2 * reach + 1;
  const padded = new Float32Array(ROWS_AT_ONCE * (side + width));
  const sums = new Float64Array(side);
  const scale = 1 / width;
  const last = side - 1;
  for (let pass = 0; pass < 2; pass++) {
    for (let y = 0; y < side; y += ROWS_AT_ONCE) {
      // Of the last four some may have been there before, and become the same again; of fewer rows than four in
      // all those beyond the picture are written nowhere.
      const first = Math.max(0, Math.min(y, side - ROWS_AT_ONCE));
      blurRows(out, across, first * side, side, reach, padded);
    }
    sums.fill(0);
    for (let y = -reach; y <= reach; y++) {
      const row = Math.min(last, Math.max(0, y)) * side;
      for (let x = 0; x < side; x++) sums[x]! += across[row + x]!;
    }
    for (let y = 0; y < side; y++) {
      const row = y * side;
      const entering = Math.min(last, y + reach + 1) * side;
      const leaving = Math.max(0, y - reach) * side;
      for (let x = 0; x < side; x++) {
        const sum = sums[x]!;
        out[row + x] = sum * scale;
        sums[x] = sum + across[entering + x]! - across[leaving + x]!;
      }
    }
  }
  return out;
}

/** A running sum waits for itself at each step: those of several rows wait together. */
const ROWS_AT_ONCE = 4;

/** Running means along four rows from `row` on; `padded` is room for them and their rims. */
function blurRows(
  from: Float32Array,
  to: Float32Array,
  row: number,
  side: number,
  reach: number,
  padded: Float32Array,
): void {
  const width = 2 * reach + 1;
  const scale = 1 / width;
  const second = side + width;
  const third = 2 * second;
  const fourth = 3 * second;
  for (let i = 0; i < ROWS_AT_ONCE; i++) pad(from, row + i * side, side, reach, padded, i * second);
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  for (let x = 0; x < width; x++) {
    a += padded[x]!;
    b += padded[second + x]!;
    c += padded[third + x]!;
    d += padded[fourth + x]!;
  }
  for (let x = 0, at = row; x < side; x++, at++) {
    to[at] = a * scale;
    to[at + side] = b * scale;
    to[at + 2 * side] = c * scale;
    to[at + 3 * side] = d * scale;
    a += padded[x + width]! - padded[x]!;
    b += padded[second + x + width]! - padded[second + x]!;
    c += padded[third + x + width]! - padded[third + x]!;
    d += padded[fourth + x + width]! - padded[fourth + x]!;
  }
}

/** Copies a row with its rims continued. */
function pad(
  from: Float32Array,
  row: number,
  side: number,
  reach: number,
  padded: Float32Array,
  at: number,
): void {
  padded.fill(from[row]!, at, at + reach);
  padded.set(from.subarray(row, row + side), at + reach);
  padded.fill(from[row + side - 1]!, at + reach + side, at + side + 2 * reach + 1);
}

/** The least reach, by which most pictures are blurred: five pixels each way weigh together at once. */
function blurOfFive(image: Float32Array, side: number): Float32Array {
  const out = new Float32Array(side * side);
  const row = new Float32Array(side);
  const last = side - 1;
  for (let y = 0; y < side; y++) {
    downFive(image, side, y, row);
    alongFive(row, out, y * side);
    for (const x of [0, 1, last - 1, last]) {
      if (x >= 0) out[y * side + x] = weighed(row, 1, x, last);
    }
  }
  return out;
}

/** What the pixels at both ends, next to the middle one, and it itself count of two means of three. */
const OUTERMOST = 1 / 9;
const NEXT = 2 / 9;
const MIDDLE = 3 / 9;

/** Weighs a row with those above and below it. */
function downFive(image: Float32Array, side: number, y: number, to: Float32Array): void {
  const last = side - 1;
  if (y < 2 || y >= last - 1) {
    for (let x = 0; x < side; x++) to[x] = weighed(image.subarray(x), side, y, last);
    return;
  }
  const first = (y - 2) * side;
  const second = first + side;
  const third = second + side;
  const fourth = third + side;
  const fifth = fourth + side;
  for (let x = 0; x < side; x++) {
    to[x] =
      MIDDLE * image[third + x]! +
      NEXT * (image[second + x]! + image[fourth + x]!) +
      OUTERMOST * (image[first + x]! + image[fifth + x]!);
  }
}

/** Weighs the pixels of a row with those beside them, but for two at either end. */
function alongFive(row: Float32Array, out: Float32Array, from: number): void {
  let a = row[0]!;
  let b = row[1]!;
  let c = row[2]!;
  let d = row[3]!;
  for (let x = 2; x < row.length - 2; x++) {
    const e = row[x + 2]!;
    out[from + x] = MIDDLE * c + NEXT * (b + d) + OUTERMOST * (a + e);
    a = b;
    b = c;
    c = d;
    d = e;
  }
}

/** Two means of three about a place near a rim, either of which continues it. */
function weighed(values: Float32Array, stride: number, place: number, last: number): number {
  let sum = 0;
  for (let first = place - 1; first <= place + 1; first++) {
    const middle = Math.min(last, Math.max(0, first));
    for (let second = middle - 1; second <= middle + 1; second++) {
      sum += values[Math.min(last, Math.max(0, second)) * stride]!;
    }
  }
  return sum / 9;
}
