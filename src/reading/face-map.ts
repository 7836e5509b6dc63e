import { inverse as inverseOf, Matrix, solve } from 'ml-matrix';
import type { PhotoPx, SpotMm } from '../face/coordinates.ts';
import type { Reading } from './reading.ts';

/** The way between a spot's millimetres and the photo, for one spot of a reading. */
export interface SpotMap {
  readonly toPx: (mm: SpotMm) => PhotoPx;
  readonly toMm: (px: PhotoPx) => SpotMm;
}

type Spot = Reading['fit']['spots'][number];

interface Sample {
  readonly radiusMm: number;
  /** Departure of the photo from the homography at equal steps of angle, px. */
  readonly residuals: readonly (readonly [number, number])[];
}

/**
 * The mapping that a reading's rings stand for, from the plain reading alone, so that kept and
 * handed-over readings can be corrected too: a homography through all ring points, and between
 * them the remaining departure (lens, bulge of the paper) interpolated over radius and angle.
 * Agrees with the fit that made the rings to a few hundredths of a millimetre; beyond the outermost
 * ring its departure is held.
 */
export function faceMap(spot: Spot): SpotMap {
  const rings = [...spot.rings].sort((a, b) => a.radiusMm - b.radiusMm);
  const pairs = rings.flatMap((ring) =>
    ring.px.map((px, i) => ({ mm: onRing(ring.radiusMm, i, ring.px.length), px })),
  );
  pairs.push({ mm: [0, 0], px: spot.centrePx });
  const h = homography(pairs);
  const inverse = invert(h);

  const samples: Sample[] = [
    { radiusMm: 0, residuals: [difference(spot.centrePx, apply(h, [0, 0]))] },
    ...rings.map((ring) => ({
      radiusMm: ring.radiusMm,
      residuals: ring.px.map((px, i) =>
        difference(px, apply(h, onRing(ring.radiusMm, i, ring.px.length))),
      ),
    })),
  ];

  const toPx = (mm: SpotMm): PhotoPx => {
    const [x, y] = apply(h, mm);
    const [dx, dy] = residualAt(samples, mm);
    return [x + dx, y + dy];
  };
  const toMm = (px: PhotoPx): SpotMm => {
    let mm = apply(inverse, px);
    // The departure changes slowly over the face: taking it off at the last guess converges fast.
    for (let i = 0; i < 6; i++) {
      const [dx, dy] = residualAt(samples, mm);
      mm = apply(inverse, [px[0] - dx, px[1] - dy]);
    }
    return mm;
  };
  return { toPx, toMm };
}

/** Where a mark is shown in a reading's photo, though it may be hidden there. */
export function placeInPhoto(
  { px, spot, mm }: Pick<Reading['marks'][number], 'px' | 'spot' | 'mm'>,
  { spots }: Reading['fit'],
): PhotoPx {
  return px ?? faceMap(spots[spot]!).toPx(mm);
}

type Pair = readonly [number, number];

function onRing(radiusMm: number, index: number, count: number): Pair {
  const angle = (2 * Math.PI * index) / count;
  return [radiusMm * Math.cos(angle), radiusMm * Math.sin(angle)];
}

function difference(a: Pair, b: Pair): Pair {
  return [a[0] - b[0], a[1] - b[1]];
}

function apply(h: readonly number[], p: Pair): Pair {
  const w = h[6]! * p[0] + h[7]! * p[1] + h[8]!;
  return [(h[0]! * p[0] + h[1]! * p[1] + h[2]!) / w, (h[3]! * p[0] + h[4]! * p[1] + h[5]!) / w];
}

function invert(h: readonly number[]): number[] {
  return inverseOf(Matrix.from1DArray(3, 3, h)).to1DArray();
}

/** Least squares on the linear form, both frames brought to unit size about the first's origin. */
function homography(pairs: readonly { readonly mm: Pair; readonly px: Pair }[]): number[] {
  const s = 1 / Math.max(...pairs.map(({ mm }) => Math.hypot(...mm)), 1);
  const count = pairs.length;
  const mean: Pair = [
    pairs.reduce((sum, { px }) => sum + px[0], 0) / count,
    pairs.reduce((sum, { px }) => sum + px[1], 0) / count,
  ];
  const spread =
    pairs.reduce((sum, { px }) => sum + Math.hypot(px[0] - mean[0], px[1] - mean[1]), 0) / count;
  const rows: number[][] = [];
  const right: number[] = [];
  for (const { mm, px } of pairs) {
    const [x, y] = [mm[0] * s, mm[1] * s];
    const [u, v] = [(px[0] - mean[0]) / spread, (px[1] - mean[1]) / spread];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]);
    right.push(u, v);
  }
  const a = new Matrix(rows);
  const at = a.transpose();
  const g = solve(at.mmul(a), at.mmul(Matrix.columnVector(right))).to1DArray();
  const unit = [...g, 1];
  const row = (i: number, k: number) => spread * unit[i]! + mean[k]! * unit[6 + (i % 3)]!;
  return [
    row(0, 0) * s,
    row(1, 0) * s,
    row(2, 0),
    row(3, 1) * s,
    row(4, 1) * s,
    row(5, 1),
    unit[6]! * s,
    unit[7]! * s,
    unit[8]!,
  ];
}

function residualAt(samples: readonly Sample[], mm: Pair): Pair {
  const radius = Math.hypot(...mm);
  const turn = (Math.atan2(mm[1], mm[0]) / (2 * Math.PI) + 1) % 1;
  const above = samples.findIndex((sample) => sample.radiusMm >= radius);
  if (above === 0) return along(samples[0]!, turn);
  if (above < 0) return along(samples.at(-1)!, turn);
  const [inner, outer] = [samples[above - 1]!, samples[above]!];
  const t = (radius - inner.radiusMm) / (outer.radiusMm - inner.radiusMm);
  const [a, b] = [along(inner, turn), along(outer, turn)];
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

function along({ residuals }: Sample, turn: number): Pair {
  const at = turn * residuals.length;
  const i = Math.floor(at);
  const [a, b] = [residuals[i % residuals.length]!, residuals[(i + 1) % residuals.length]!];
  const t = at - i;
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}
