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

/** Beyond so many standard deviations all, or nothing, of a normal distribution lies below. */
const NORMAL_REACH = 6;
const NORMAL_STEPS = 128;

/** Cumulative normal distribution at every 1/128 of a standard deviation (Abramowitz and Stegun 7.1.26). */
const NORMAL_BELOW = Float64Array.from({ length: 2 * NORMAL_REACH * NORMAL_STEPS + 2 }, (_, i) => {
  const z = i / NORMAL_STEPS - NORMAL_REACH;
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const below = 0.5 * poly * Math.exp(-x * x);
  return z < 0 ? below : 1 - below;
});

/** Cumulative normal distribution, error below 2e-6. */
function normalBelow(z: number): number {
  if (z <= -NORMAL_REACH) return 0;
  if (z >= NORMAL_REACH) return 1;
  const at = (z + NORMAL_REACH) * NORMAL_STEPS;
  const i = Math.floor(at);
  return NORMAL_BELOW[i]! + (at - i) * (NORMAL_BELOW[i + 1]! - NORMAL_BELOW[i]!);
}

/** Tables for one shape on one grid of samples: orthonormal vectors per candidate place. */
export interface EdgeFinder {
  /** `profile`: samples x 3 colours, row by row. Null where nothing like the ring is in it. */
  find(profile: Float64Array): EdgePlace | null;
}

/**
 * Makes a finder for profiles of `samples` values, `spacing` apart, whose middle is 0. Places are
 * tried within `reach` of the middle.
 */
export function edgeFinder(
  shape: EdgeShape,
  { samples, spacing, reach }: { samples: number; spacing: number; reach: number },
): EdgeFinder {
  const step = Math.min(spacing / 2, shape.blur / 3);
  const half = Math.max(1, Math.round(reach / step));
  const count = 2 * half + 1;
  const plain = plainVectors(shape.kind, samples);
  // Only dark lines between two inks can be told from a shift of the step: they move by themselves.
  const moving = shape.kind === 'step' && shape.line === 'dark' ? 2 : 1;
  // What spans the shapes at all places alike, and then what else does at each, the telling one last.
  const still = moving === 1 ? plain : [];
  const basisSize = still.length + moving;
  const vectors = new Float64Array(count * moving * samples);
  const first = (-(samples - 1) / 2) * spacing;
  for (let c = 0; c < count; c++) {
    const own = Array.from({ length: moving }, (_, k) => {
      const from = (c * moving + k) * samples;
      return vectors.subarray(from, from + samples);
    });
    writeShape(shape, (c - half) * step - first, spacing, own);
    own.forEach((vector, k) => makeOrthonormal(vector, [...still, ...own.slice(0, k)]));
  }
  const unexplained = new Float64Array(count);
  const gain = new Float64Array(count);
  const mixed = new Float64Array(samples);

  /** How much of the mixed colour the shape at place `c` leaves, apart from what all leave. */
  const tryMixed = (c: number): void => {
    let explained = 0;
    let last = 0;
    for (let k = 0; k < moving; k++) {
      const offset = (c * moving + k) * samples;
      last = 0;
      for (let j = 0; j < samples; j++) last += vectors[offset + j]! * mixed[j]!;
      explained += last * last;
    }
    unexplained[c] = -explained;
    gain[c] = last;
  };
  /** How much the shape at place `c` leaves of a profile of which the still vectors leave `rest`. */
  const tryColours = (c: number, profile: Float64Array, rest: number): void => {
    let left = rest;
    let last = 0;
    for (let k = 0; k < moving; k++) {
      const offset = (c * moving + k) * samples;
      let red = 0;
      let green = 0;
      let blue = 0;
      for (let j = 0, i = 0; j < samples; j++, i += 3) {
        const value = vectors[offset + j]!;
        red += value * profile[i]!;
        green += value * profile[i + 1]!;
        blue += value * profile[i + 2]!;
      }
      left -= red * red + green * green + blue * blue;
      last = red + green + blue;
    }
    unexplained[c] = left;
    gain[c] = last;
  };
  /** Mixes the colours into the one in which the profile's two ends differ most. */
  const mixColours = (profile: Float64Array): void => {
    mixed.fill(0);
    const end = samples >> 2;
    for (let colour = 0; colour < 3; colour++) {
      let share = 1;
      if (shape.kind === 'step') {
        share = 0;
        for (let j = 0; j < end; j++) {
          share += profile[3 * (samples - 1 - j) + colour]! - profile[3 * j + colour]!;
        }
      }
      for (let j = 0; j < samples; j++) mixed[j]! += share * profile[3 * j + colour]!;
    }
  };
  const admissible = (c: number): boolean =>
    shape.kind === 'step' || gain[c]! * (shape.line === 'light' ? 1 : -1) >= 0;

  return {
    find(profile) {
      let energy = 0;
      for (const value of profile) energy += value * value;
      const nothing = energy - explainedBy(plain, profile);
      const rest = still === plain ? nothing : energy - explainedBy(still, profile);
      // What is left changes over the width of the blur, so every place need not be tried at first,
      // nor in every colour.
      mixColours(profile);
      let coarse = -1;
      for (let c = 1; c + 1 < count; c += STRIDE) {
        tryMixed(c);
        if (admissible(c) && (coarse < 0 || unexplained[c]! < unexplained[coarse]!)) coarse = c;
      }
      if (coarse < 0) return null;
      const low = Math.max(0, coarse - STRIDE);
      const high = Math.min(count - 1, coarse + STRIDE);
      for (let c = low; c <= high; c++) tryColours(c, profile, rest);
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
      const freedom = Math.max(1, 3 * (samples - basisSize) - 1);
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

/**
 * Writes what a shape adds to one even tone and its slow change, what tells where the ring is last.
 *
 * @param depth How far within the ring the first sample lies; each next one is `spacing` less so.
 */
function writeShape(
  shape: EdgeShape,
  depth: number,
  spacing: number,
  out: readonly Float64Array[],
): void {
  const telling = out.at(-1)!;
  const lineLight = shape.line === 'dark' ? LINE_DARKNESS : 1;
  for (let j = 0; j < telling.length; j++) {
    const within = depth - j * spacing;
    const beyondLine = normalBelow(within / shape.blur);
    const withinLine = normalBelow((within - shape.lineWidth) / shape.blur);
    const line = beyondLine - withinLine;
    telling[j] = shape.kind === 'line' ? line : withinLine + lineLight * line;
    if (out.length > 1) out[0]![j] = 1 - (1 - lineLight) * line;
  }
}

/** Orthonormal vectors of a profile without the ring: one tone, and on one ink its slow change. */
function plainVectors(kind: EdgeShape['kind'], samples: number): Float64Array[] {
  const ones = new Float64Array(samples).fill(1);
  const slope = Float64Array.from({ length: samples }, (_, j) => j - (samples - 1) / 2);
  const vectors = kind === 'line' ? [ones, slope] : [ones];
  vectors.forEach((vector, k) => makeOrthonormal(vector, vectors.slice(0, k)));
  return vectors;
}

/** What a set of orthonormal vectors explains of a profile's energy, in all its colours. */
function explainedBy(vectors: readonly Float64Array[], profile: Float64Array): number {
  let explained = 0;
  for (const vector of vectors) {
    let red = 0;
    let green = 0;
    let blue = 0;
    for (let j = 0, i = 0; j < vector.length; j++, i += 3) {
      red += vector[j]! * profile[i]!;
      green += vector[j]! * profile[i + 1]!;
      blue += vector[j]! * profile[i + 2]!;
    }
    explained += red * red + green * green + blue * blue;
  }
  return explained;
}

/** Takes from a vector what others, orthonormal, span, and brings what is left to length one. */
function makeOrthonormal(vector: Float64Array, others: readonly Float64Array[]): void {
  for (const other of others) {
    let dot = 0;
    for (let j = 0; j < vector.length; j++) dot += vector[j]! * other[j]!;
    for (let j = 0; j < vector.length; j++) vector[j]! -= dot * other[j]!;
  }
  let length = 0;
  for (let j = 0; j < vector.length; j++) length += vector[j]! * vector[j]!;
  length = Math.sqrt(length) || 1;
  for (let j = 0; j < vector.length; j++) vector[j]! /= length;
}
