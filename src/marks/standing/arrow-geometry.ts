import type { SheetMm, SpotMm } from '../../face/coordinates.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { cameraOverSheet } from '../../fit/camera/project.ts';

/** An arrow, or what may be one, as far as its image was followed. */
export interface FollowedImage {
  readonly spot: number;
  readonly mm: SpotMm;
  readonly probability: number;
  /** Unit vector of its image, from the entry, and how far that is seen, mm. */
  readonly along: readonly [number, number];
  readonly lengthMm: number;
  /** Whether its image goes on where the picture ends. */
  readonly runsOut: boolean;
}

/**
 * How arrows that stand in a face appear on the flat face. A point at height z over the paper on an
 * arrow that enters at e and leans by a (mm sideways per mm of height) is seen, through the camera
 * at (C, h), where the paper shows e + z h / (h - z) * ((e - C) / h + a): on a straight line, along
 * the image of the face's normal but for the lean.
 */
export interface ArrowGeometry {
  /** Foot of the camera on the sheet, mm, and its height over the paper. */
  readonly footMm: SheetMm;
  readonly heightMm: number;
}

/** Beside the middle line, in shafts, where a bar still covers the face up to its rounded end. */
export const BESIDE = 0.25;

/** Arrows come in flat or falling, so their nocks stand a little high on average. */
const MEAN_LEAN = [0, 0.03] as const;
/** Spread of single arrows' lean per axis, radians: boss, flight and droop (common practice, no published source). */
export const LEAN_SD = 0.07;
/** Length outside the paper, mm. */
export const OUTSIDE_MM = 600;

export function arrowGeometry(fit: FaceFit): ArrowGeometry {
  const [x, y, heightMm] = cameraOverSheet(fit);
  return { footMm: [x, y], heightMm };
}

/** Slope of the image of an unleaning arrow: mm on the flat face per mm of height at the paper. */
export function normalSlope(geometry: ArrowGeometry, entry: SheetMm): [number, number] {
  return [
    (entry[0] - geometry.footMm[0]) / geometry.heightMm,
    (entry[1] - geometry.footMm[1]) / geometry.heightMm,
  ];
}

/**
 * Height over the paper, mm, of what is seen so far along the image of an arrow; the most that a usual
 * lean makes of it.
 */
export function heightOfEnd(geometry: ArrowGeometry, entry: SheetMm, lengthMm: number): number {
  const { heightMm } = geometry;
  const slope = Math.max(LEAN_SD / 2, Math.hypot(...normalSlope(geometry, entry)) - LEAN_SD);
  return (lengthMm * heightMm) / (slope * heightMm + lengthMm);
}

/** Heights over the paper, mm, between which the vanes and nock of an arrow are looked for. */
const REAR_MM = { from: 380, to: 740 } as const;
/** No more of the way to the camera: what is nearer fills the picture. */
const NEAREST = 0.85;

/** Slope of the image of an arrow that is seen end on. */
const LEAST_SLOPE = 0.01;

/** Where along the image of an arrow its rear end may be seen. */
export interface RearStretch {
  /** From the entry, mm of flat face. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Likeliest place of the rear end itself. */
  readonly likelyMm: number;
  /** Length of the image of a piece of the rear end over what its width would make of it. */
  readonly foreshortening: number;
}

/** Stretch of the image of an arrow, entering at `entry` and seen along `along`, of its rear end. */
export function rearStretch(
  geometry: ArrowGeometry,
  entry: SheetMm,
  along: readonly [number, number],
): RearStretch {
  const { heightMm } = geometry;
  const slope = normalSlope(geometry, entry);
  const forward = (slope[0] + MEAN_LEAN[0]) * along[0] + (slope[1] + MEAN_LEAN[1]) * along[1];
  const likely = Math.max(LEAN_SD / 4, forward);
  const distance = (steep: number, height: number): number => {
    const z = Math.min(NEAREST * heightMm, height);
    return (steep * z * heightMm) / (heightMm - z);
  };
  return {
    fromMm: distance(Math.max(0, forward - LEAN_SD), REAR_MM.from),
    toMm: distance(likely + LEAN_SD, REAR_MM.to),
    likelyMm: distance(likely, OUTSIDE_MM),
    foreshortening:
      Math.max(LEAST_SLOPE, slope[0] * along[0] + slope[1] * along[1]) * widening(geometry),
  };
}

/** How much wider the rear end of an arrow is seen than its front, by perspective. */
export function widening({ heightMm }: ArrowGeometry): number {
  return heightMm / Math.max((1 - NEAREST) * heightMm, heightMm - OUTSIDE_MM);
}

/** How much wider an arrow is seen so far along its image, mm, than at its entry. */
export function wideningAlong(geometry: ArrowGeometry, entry: SheetMm, distanceMm: number): number {
  const slope = Math.max(LEAN_SD / 2, Math.hypot(...normalSlope(geometry, entry)));
  return Math.min(widening(geometry), 1 + distanceMm / (slope * geometry.heightMm));
}

/** How far along an arrow's image a place lies, and how far beside it, mm. */
export function inFrameOf(
  { mm, along }: { readonly mm: SpotMm; readonly along: readonly [number, number] },
  [x, y]: SpotMm,
): { ahead: number; beside: number } {
  const [dx, dy] = [x - mm[0], y - mm[1]];
  return {
    ahead: dx * along[0] + dy * along[1],
    beside: Math.abs(dx * along[1] - dy * along[0]),
  };
}
