import { flatten, type FlatFace } from '../../fit/flat/flatten.ts';
import type { FaceFit } from '../../fit/camera/face-fit.ts';
import type { SpotMm } from '../../face/coordinates.ts';
import { sheetToPhoto, spotToSheet } from '../../fit/camera/project.ts';
import type { Raster } from '../../raster/raster.ts';
import { rearStretch, widening, type ArrowGeometry, type RearStretch } from './arrow-geometry.ts';
import type { StandingArrow } from './standing-arrows.ts';

/** Where the rear ends of a spot's arrows are seen, on the continued plane of the face. */
export interface RearView {
  readonly flat: FlatFace;
  /** Width of a shaft at its rear end as seen on `flat`, mm. */
  readonly rearShaftMm: number;
  /** One for each arrow, in their order, as far as the photo shows whether it ends. */
  readonly stretches: readonly RearStretch[];
}

/** Width of a shaft at its rear end, flat pixels. */
const REAR_SHAFT_PX = 7;
/** Widest view worked on, px; wider ones are looked at more coarsely. */
const MOST_PX = 704;
/** Room for vanes around where rear ends may be, in shafts. */
const MARGIN = 5;
/** Where an arrow leaves the photo it looks as if it ended: so near the rim nothing is told, in shafts. */
const RIM = 2.5;

/**
 * Looks where the rear ends of arrows that stand in one spot are seen: often beside the paper.
 *
 * @param arrows At least one, all of the same spot.
 */
export function rearView(
  photo: Raster,
  fit: FaceFit,
  geometry: ArrowGeometry,
  arrows: readonly StandingArrow[],
  shaftMm: number,
): RearView {
  const { spot } = arrows[0]!;
  const rearShaftMm = shaftMm * widening(geometry);
  const stretches = arrows.map(({ mm, along }) => {
    const whole = rearStretch(geometry, spotToSheet(fit, spot, mm), along);
    const isSeen = (d: number): boolean => {
      const at: SpotMm = [mm[0] + d * along[0], mm[1] + d * along[1]];
      const [x, y] = sheetToPhoto(fit, spotToSheet(fit, spot, at));
      return x > 0 && y > 0 && x < photo.width && y < photo.height;
    };
    let toMm = whole.toMm;
    while (toMm > whole.fromMm && !isSeen(toMm + RIM * rearShaftMm)) toMm -= rearShaftMm / 2;
    return { ...whole, toMm: Math.max(whole.fromMm, toMm) };
  });
  const ends = arrows.flatMap(({ mm, along }, i) => {
    const { fromMm, toMm } = stretches[i]!;
    return [fromMm, toMm].map((d): SpotMm => [mm[0] + d * along[0], mm[1] + d * along[1]]);
  });
  const [left, right] = extent(ends.map(([x]) => x));
  const [low, high] = extent(ends.map(([, y]) => y));
  const halfWidthMm = Math.max(right - left, high - low) / 2 + MARGIN * rearShaftMm;
  const flat = flatten(photo, fit, {
    spot,
    mmPerPx: Math.max(rearShaftMm / REAR_SHAFT_PX, (2 * halfWidthMm) / MOST_PX),
    halfWidthMm,
    centreMm: [(left + right) / 2, (low + high) / 2],
  });
  return { flat, rearShaftMm, stretches };
}

function extent(values: readonly number[]): [number, number] {
  return [Math.min(...values), Math.max(...values)];
}
