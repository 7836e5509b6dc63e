/**
 * What a printed ring looks like across, and where it is in a measured profile.
 *
 * A dividing line lies wholly inside the higher zone, so from the middle outward come the inner
 * ink, the line (`lineWidth` wide), and, from the ring's radius on, the outer ink; all of it blurred.
 * Between two inks the line cannot be told from a shift of the step, so its width and darkness are
 * given there; between two zones of one ink it stands alone.
 */
export interface EdgeShape {
  /** 'step': two inks, with or without a line. 'line': one ink with a line in it. */
  readonly kind: 'step' | 'line';
  /** Colour of the line, null where none is printed. */
  readonly line: 'dark' | 'light' | null;
  /** Width of the line, in the profile's unit. */
  readonly lineWidth: number;
  /** Standard deviation of the blur, in the profile's unit. */
  readonly blur: number;
}

export interface EdgePlace {
  /** Place of the ring's radius (outer edge of the line) in the profile, in its unit from 0. */
  readonly at: number;
  /** One standard deviation of `at` by the profile's own noise. */
  readonly sd: number;
  /** Part of the profile's variance that the ring explains, 0 to 1. */
  readonly explained: number;
}

/** Places from one to the next that is tried at first; three are about one blur. */
const STRIDE = 3;

/** Part of a profile's energy below which what is left of it is but rounding: it is all one tone. */
const ROUNDING = 1e-9;

/** Black ink sends back this part of what the ink under it would. */
const LINE_DARKNESS = 0.06;

/** Cumulative normal distribution (Abramowitz and Stegun 7.1.26, error below 1.5e-7). */
function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const below = 0.5 * poly * Math.exp(-x * x);
  return z < 0 ? below : 1 - below;
}

/** Tables for one shape on one grid of samples: orthonormal bases per candidate place. */
export interface EdgeFinder {
  /** `profile`: samples x channels, row by row. Null where nothing like the ring is in it. */
  find(profile: Float64Array): EdgePlace | null;
}

/**
 * Makes a finder for profiles of `samples` values, `spacing` apart, whose middle is 0. Places are
 * tried within `reach` of the middle.
 */
export function edgeFinder(
  shape: EdgeShape,
  grid: { samples: number; spacing: number; reach: number; channels: number },
): EdgeFinder {
  const { samples, spacing, reach, channels } = grid;
  const step = Math.min(spacing / 2, shape.blur / 3);
  const half = Math.max(1, Math.round(reach / step));
  const count = 2 * half + 1;
  const basisSize = shape.kind === 'step' ? 2 : 3;
  const bases = new Float64Array(count * basisSize * samples);
  const first = (-(samples - 1) / 2) * spacing;
  for (let c = 0; c < count; c++) {
    const at = (c - half) * step;
    const vectors = shapeVectors(shape, at, samples, first, spacing);
    orthonormalise(vectors);
    for (let k = 0; k < basisSize; k++) {
      const offset = (c * basisSize + k) * samples;
      for (let j = 0; j < samples; j++) bases[offset + j] = vectors[k]![j]!;
    }
  }
  const plain = [new Float64Array(samples).fill(1)];
  if (shape.kind === 'line') {
    plain.push(Float64Array.from({ length: samples }, (_, j) => first + j * spacing));
  }
  orthonormalise(plain);
  const unexplained = new Float64Array(count);
  const gain = new Float64Array(count);
  // One channel after another, so that the innermost loop runs over neighbours.
  const values = new Float64Array(channels * samples);
  const mixed = new Float64Array(samples);

  /**
   * Measures how much the shape at place `c` leaves unexplained of the first `planes` channels of
   * `source`, whose squares add up to `energy`.
   */
  const tryAt = (c: number, source: Float64Array, planes: number, energy: number): void => {
    let left = energy;
    let last = 0;
    for (let plane = 0; plane < planes; plane++) {
      const from = plane * samples;
      for (let k = 0; k < basisSize; k++) {
        const offset = (c * basisSize + k) * samples;
        let dot = 0;
        for (let j = 0; j < samples; j++) dot += bases[offset + j]! * source[from + j]!;
        left -= dot * dot;
        if (k === basisSize - 1) last += dot;
      }
    }
    unexplained[c] = left;
    gain[c] = last;
  };
  /** Mixes the channels into the one in which the profile's two ends differ most. */
  const mixChannels = (): void => {
    mixed.fill(0);
    const end = samples >> 2;
    for (let channel = 0; channel < channels; channel++) {
      const from = channel * samples;
      let share = 1;
      if (shape.kind === 'step') {
        share = 0;
        for (let j = 0; j < end; j++) share += values[from + samples - 1 - j]! - values[from + j]!;
      }
      for (let j = 0; j < samples; j++) mixed[j]! += share * values[from + j]!;
    }
  };
  const admissible = (c: number): boolean =>
    shape.kind === 'step' || gain[c]! * (shape.line === 'light' ? 1 : -1) >= 0;

  return {
    find(profile) {
      let energy = 0;
      let nothing = 0;
      for (let channel = 0; channel < channels; channel++) {
        const from = channel * samples;
        let own = 0;
        for (let j = 0; j < samples; j++) {
          const value = profile[j * channels + channel]!;
          values[from + j] = value;
          own += value * value;
        }
        energy += own;
        nothing += own;
        for (const vector of plain) {
          let dot = 0;
          for (let j = 0; j < samples; j++) dot += vector[j]! * values[from + j]!;
          nothing -= dot * dot;
        }
      }
      // What is left changes over the width of the blur, so every place need not be tried at first,
      // nor in every colour.
      mixChannels();
      let coarse = -1;
      for (let c = 1; c + 1 < count; c += STRIDE) {
        // Only compared with one another: what they leave of all there is does not matter.
        tryAt(c, mixed, 1, 0);
        if (admissible(c) && (coarse < 0 || unexplained[c]! < unexplained[coarse]!)) coarse = c;
      }
      if (coarse < 0) return null;
      const low = Math.max(0, coarse - STRIDE);
      const high = Math.min(count - 1, coarse + STRIDE);
      for (let c = low; c <= high; c++) tryAt(c, values, channels, energy);
      let best = -1;
      for (let c = Math.max(1, low); c <= Math.min(count - 2, high); c++) {
        if (admissible(c) && (best < 0 || unexplained[c]! < unexplained[best]!)) best = c;
      }
      if (best === low || best === high) return null;
      if (best < 0 || !(nothing > ROUNDING * energy)) return null;
      const [before, here, after] = [
        unexplained[best - 1]!,
        unexplained[best]!,
        unexplained[best + 1]!,
      ];
      const curvature = before - 2 * here + after;
      if (!(curvature > 0)) return null;
      const shift = Math.max(-0.5, Math.min(0.5, (before - after) / (2 * curvature)));
      const freedom = Math.max(1, channels * (samples - basisSize) - 1);
      // Of a picture without noise nothing is left, to within rounding.
      const noise = Math.max(0, here) / freedom;
      return {
        at: (best - half + shift) * step,
        sd: step * Math.sqrt((2 * noise) / curvature),
        explained: 1 - here / nothing,
      };
    },
  };
}

/** Vectors that span every profile of the shape with its ring at `at`; the telling one is last. */
function shapeVectors(
  shape: EdgeShape,
  at: number,
  samples: number,
  first: number,
  spacing: number,
): Float64Array[] {
  const inside = new Float64Array(samples);
  const line = new Float64Array(samples);
  for (let j = 0; j < samples; j++) {
    const s = first + j * spacing;
    const beyondLine = normalBelow((at - s) / shape.blur);
    const withinLine = normalBelow((at - shape.lineWidth - s) / shape.blur);
    inside[j] = withinLine;
    line[j] = beyondLine - withinLine;
  }
  const ones = new Float64Array(samples).fill(1);
  if (shape.kind === 'line') {
    const slope = Float64Array.from({ length: samples }, (_, j) => first + j * spacing);
    return [ones, slope, line];
  }
  const dark = shape.line === 'dark' ? LINE_DARKNESS : 1;
  const innerPart = Float64Array.from(inside, (value, j) => value + dark * line[j]!);
  const both = Float64Array.from(inside, (value, j) => 1 - line[j]! - value + innerPart[j]!);
  return [both, innerPart];
}

function orthonormalise(vectors: readonly Float64Array[]): void {
  vectors.forEach((vector, k) => {
    for (let earlier = 0; earlier < k; earlier++) {
      const other = vectors[earlier]!;
      let dot = 0;
      for (let j = 0; j < vector.length; j++) dot += vector[j]! * other[j]!;
      for (let j = 0; j < vector.length; j++) vector[j]! -= dot * other[j]!;
    }
    let length = 0;
    for (const value of vector) length += value * value;
    length = Math.sqrt(length) || 1;
    for (let j = 0; j < vector.length; j++) vector[j]! /= length;
  });
}
