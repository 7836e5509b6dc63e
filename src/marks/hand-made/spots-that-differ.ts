import quickselect from 'quickselect';
import type { FlatFace } from '../../fit/flat/flatten.ts';
import { boxBlur } from '../flat-view/box-blur.ts';
import type { Misfit } from '../flat-view/expected-face.ts';

/** A place on the flat face that differs from the expected face all round, like a disc. */
export interface Blob {
  /** Flat pixels, centre of the first one (0.5, 0.5). */
  readonly x: number;
  readonly y: number;
  /** Darkness over the surroundings, in noise units and as a part of the expected level. */
  readonly darkSnr: number;
  readonly darkness: number;
  /** Difference of any kind over the surroundings, in noise units and in grey levels. */
  readonly oddSnr: number;
  readonly oddness: number;
}

/** How far out the surroundings are probed, in shaft diameters from the centre. */
const PROBE_SHAFTS = 1.15;
const PROBES = 8;
/** Responses below this many noise units are not worth a closer look. */
const LEAST_SNR = 4;

/**
 * Local maxima of the matched response for a disc about as wide as the shaft. The response is the
 * second smallest of the contrasts to eight places around: edges of shadows have three places that
 * look the same as the middle, bars and lines two, discs none; one may be a neighbouring hole.
 */
export function spotsThatDiffer(flat: FlatFace, misfit: Misfit, shaftMm: number): Blob[] {
  const { side } = misfit;
  const shaftPx = shaftMm / flat.mmPerPx;
  const reach = Math.max(1, Math.round(0.18 * shaftPx));
  const dark = boxBlur(misfit.dark, side, reach);
  const odd = boxBlur(misfit.odd, side, reach);
  const darkNoise = localNoise(dark, flat.seen, side, Math.round(4 * shaftPx));
  const oddNoise = localNoise(odd, flat.seen, side, Math.round(4 * shaftPx));
  const probe = PROBE_SHAFTS * shaftPx;
  const margin = Math.ceil(probe) + 1;
  const shifts = Int32Array.from({ length: PROBES }, (_, i) => {
    const angle = (2 * Math.PI * i) / PROBES;
    return Math.round(probe * Math.cos(angle)) + side * Math.round(probe * Math.sin(angle));
  });
  const response = new Float32Array(side * side);
  /** Where there is a response, row by row. */
  const places: number[] = [];
  const { block, across } = darkNoise;
  for (let y = margin; y < side - margin; y++) {
    const noiseRow = Math.floor(y / block) * across;
    for (let column = 0; column < across; column++) {
      const darkSigma = darkNoise.sigma[noiseRow + column]!;
      const oddSigma = oddNoise.sigma[noiseRow + column]!;
      const stop = Math.min(side - margin, (column + 1) * block);
      for (let x = Math.max(margin, column * block); x < stop; x++) {
        const at = y * side + x;
        const isDark = dark[at]! > LEAST_SNR * darkSigma;
        const isOdd = odd[at]! > LEAST_SNR * oddSigma;
        if (!(isDark || isOdd) || !flat.seen[at] || misfit.level[at] === 0) continue;
        const darkBest = isDark ? contrast(dark, at, shifts, LEAST_SNR * darkSigma) / darkSigma : 0;
        const oddBest = isOdd ? contrast(odd, at, shifts, LEAST_SNR * oddSigma) / oddSigma : 0;
        const best = Math.max(darkBest, oddBest);
        if (best < LEAST_SNR) continue;
        response[at] = best;
        places.push(at);
      }
    }
  }
  const apart = Math.max(1, Math.round(0.4 * shaftPx));
  const blobs: Blob[] = [];
  for (const at of places) {
    const x = at % side;
    const y = (at - x) / side;
    if (!isHighest(response, side, x, y, apart)) continue;
    const darkContrast = contrast(dark, at, shifts, 0);
    const oddContrast = contrast(odd, at, shifts, 0);
    blobs.push({
      x: x + 0.5,
      y: y + 0.5,
      darkSnr: darkContrast / noiseAt(darkNoise, x, y),
      darkness: darkContrast / Math.max(8, misfit.level[at]!),
      oddSnr: oddContrast / noiseAt(oddNoise, x, y),
      oddness: oddContrast,
    });
  }
  return blobs;
}

/** Second smallest of the contrasts to the places around, 0 where it is less than `least`. */
function contrast(image: Float32Array, at: number, shifts: Int32Array, least: number): number {
  const middle = image[at]!;
  let smallest = Infinity;
  let second = Infinity;
  for (let i = 0; i < PROBES; i++) {
    const c = middle - image[at + shifts[i]!]!;
    if (c >= second) continue;
    if (c < smallest) {
      second = smallest;
      smallest = c;
    } else second = c;
    if (second < least) return 0;
  }
  return second;
}

function isHighest(
  response: Float32Array,
  side: number,
  x: number,
  y: number,
  apart: number,
): boolean {
  const r = response[y * side + x]!;
  for (let dy = -apart; dy <= apart; dy++) {
    for (let dx = -apart; dx <= apart; dx++) {
      if (dx * dx + dy * dy > apart * apart) continue;
      const other = response[(y + dy) * side + x + dx] ?? 0;
      if (other > r || (other === r && (dy < 0 || (dy === 0 && dx < 0)))) return false;
    }
  }
  return true;
}

interface NoiseGrid {
  readonly block: number;
  readonly across: number;
  readonly sigma: Float32Array;
}

function noiseAt(grid: NoiseGrid, x: number, y: number): number {
  return grid.sigma[Math.floor(y / grid.block) * grid.across + Math.floor(x / grid.block)]!;
}

/** Noise of a photo without any, grey levels: what bytes round away. */
const LEAST_SIGMA = 0.5;
/** A blurred image is looked at in every so many pixels each way. */
const NOISE_STEP = 3;

/** Robust spread of a blurred image in blocks, from the middle of its distribution. */
function localNoise(image: Float32Array, seen: Uint8Array, side: number, block: number): NoiseGrid {
  const across = Math.ceil(side / block);
  const raw = new Float32Array(across * across);
  const room = new Array<number>(Math.max(9, Math.ceil(block / NOISE_STEP) ** 2)).fill(0);
  for (let by = 0; by < across; by++) {
    for (let bx = 0; bx < across; bx++) {
      let count = 0;
      const stop = Math.min(side, (by + 1) * block);
      const right = Math.min(side, (bx + 1) * block);
      for (let y = by * block; y < stop; y += NOISE_STEP) {
        for (let x = bx * block; x < right; x += NOISE_STEP) {
          const at = y * side + x;
          if (seen[at]) room[count++] = image[at]!;
        }
      }
      if (count < 8) continue;
      const low = nthSmallest(room, count, Math.floor(count * 0.16));
      const high = nthSmallest(room, count, Math.floor(count * 0.84));
      raw[by * across + bx] = (high - low) / 2;
    }
  }
  // A block full of marks borrows the noise of its quieter neighbours.
  const sigma = new Float32Array(across * across);
  for (let by = 0; by < across; by++) {
    for (let bx = 0; bx < across; bx++) {
      let count = 0;
      for (let y = Math.max(0, by - 1); y <= Math.min(across - 1, by + 1); y++) {
        for (let x = Math.max(0, bx - 1); x <= Math.min(across - 1, bx + 1); x++) {
          const v = raw[y * across + x]!;
          if (v > 0) room[count++] = v;
        }
      }
      const usual = count > 0 ? nthSmallest(room, count, count >> 1) : 0;
      sigma[by * across + bx] = Math.max(LEAST_SIGMA, usual);
    }
  }
  return { block, across, sigma };
}

/** The value that `n` of the first `count` come before in order of size; they change their order. */
function nthSmallest(values: number[], count: number, n: number): number {
  quickselect(values, n, 0, count - 1);
  return values[n]!;
}
