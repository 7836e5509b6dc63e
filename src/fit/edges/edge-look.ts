import type { Face } from '../../face/faces.ts';
import { ringPrint, type EdgeLook, type MeasuredProfile } from './ring-edges.ts';

/** Half length and spacing of the common profile, px. */
const HALF_PX = 8;
const SPACING_PX = 0.25;

/**
 * Width of the dividing lines and blur of the picture, from the dark lines between zones of one
 * ink: many profiles laid over one another give a clean one, whose area is the line's width (its
 * depth is that of black ink) and whose breadth is the blur.
 */
export function edgeLook(
  face: Face,
  profiles: readonly MeasuredProfile[],
  weights: ArrayLike<number>,
  before: EdgeLook,
): EdgeLook {
  const widths: number[] = [];
  const blurs: number[] = [];
  const keys = new Set(profiles.map(({ spot, ring }) => spot * 100 + ring));
  for (const key of keys) {
    const ring = key % 100;
    const print = ringPrint(face, ring);
    if (print.inside !== print.outside || print.line !== 'dark') continue;
    const members = profiles.filter(
      (profile, i) => profile.spot * 100 + profile.ring === key && weights[i]! > 0.3,
    );
    if (members.length < 12) continue;
    const clean = commonProfile(members);
    const pxPerMm = members.reduce((sum, { pxPerMm }) => sum + pxPerMm, 0) / members.length;
    const found = lineOf(clean);
    if (!found) continue;
    widths.push(found.widthPx / pxPerMm);
    blurs.push(found.blurPx);
  }
  if (widths.length === 0) return before;
  const middle = (values: number[]): number =>
    values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
  return { lineMm: middle(widths), blurPx: Math.max(0.45, middle(blurs)) };
}

/** Median over the members of their brightness about the place found, as a part of the ink's. */
function commonProfile(members: readonly MeasuredProfile[]): Float64Array {
  const count = 2 * Math.round(HALF_PX / SPACING_PX) + 1;
  const out = new Float64Array(count).fill(NaN);
  const room = new Float64Array(members.length);
  for (let j = 0; j < count; j++) {
    let seen = 0;
    for (const { light, spacingPx, atPx } of members) {
      const samples = light.length / 3;
      const at = (atPx - HALF_PX + j * SPACING_PX) / spacingPx + (samples - 1) / 2;
      const i = Math.floor(at);
      if (i < 0 || i + 1 >= samples) continue;
      const part = at - i;
      room[seen++] = (1 - part) * brightnessAt(light, i) + part * brightnessAt(light, i + 1);
    }
    if (seen < 0.6 * members.length) continue;
    out[j] = room.subarray(0, seen).sort()[seen >> 1]!;
  }
  return out;
}

function brightnessAt(light: Float64Array, sample: number): number {
  return light[3 * sample]! + light[3 * sample + 1]! + light[3 * sample + 2]!;
}

/** Width and blur of a dark line in a profile, by the line's area and its second moment. */
function lineOf(profile: Float64Array): { widthPx: number; blurPx: number } | null {
  const known = Array.from(profile).filter(Number.isFinite);
  if (known.length < 12) return null;
  const sorted = [...known].sort((a, b) => a - b);
  // The line takes less than half of the strip: the ink is the upper part's middle.
  const ink = sorted[Math.floor(sorted.length * 0.75)]!;
  if (!(ink > 0)) return null;
  const depth = Array.from(profile, (value) =>
    Number.isFinite(value) ? Math.max(0, 1 - value / ink) : 0,
  );
  let peak = 0;
  depth.forEach((value, j) => {
    if (value > depth[peak]!) peak = j;
  });
  if (depth[peak]! < 0.04) return null;
  // Only the dip itself: outward from its deepest place until a tenth of the depth is left.
  const floor = 0.1 * depth[peak]!;
  let from = peak;
  let to = peak;
  while (from > 0 && depth[from - 1]! > floor) from--;
  while (to + 1 < depth.length && depth[to + 1]! > floor) to++;
  let area = 0;
  let moment = 0;
  for (let j = from; j <= to; j++) {
    area += depth[j]!;
    moment += depth[j]! * j;
  }
  const mean = moment / area;
  let second = 0;
  for (let j = from; j <= to; j++) second += depth[j]! * (j - mean) ** 2;
  const blackest = 0.95;
  const widthPx = (area * SPACING_PX) / blackest;
  const variance = (second / area) * SPACING_PX * SPACING_PX;
  // Cutting a bell at a tenth of its height takes off a quarter of its variance.
  const blur2 = variance * 1.25 - (widthPx * widthPx) / 12;
  return { widthPx, blurPx: Math.sqrt(Math.max(0.2, blur2)) };
}
