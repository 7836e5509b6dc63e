import { FACES, outerRadiusMm } from '../face/faces.ts';
import type { Raster } from '../raster/raster.ts';
import { projectorOf, type CameraState } from './camera-state.ts';

/** How the paper lies on the face's own axes. */
export interface PaperEdges {
  /** Angle by which the paper's "up" is turned from the state's, counter-clockwise, rad. */
  readonly turn: number;
  /** One standard deviation of it, rad. */
  readonly sd: number;
  /** Number of the paper's sides that were seen. */
  readonly sides: number;
}

interface EdgePoint {
  readonly angle: number;
  readonly x: number;
  readonly y: number;
  readonly weight: number;
}

const RAYS = 360;
/** Paper ends within this many radii of the outermost ring. */
const FARTHEST = 1.75;
const STEPS = 220;
/** Least change of level (0 to 255) over the edge that counts. */
const LEAST_CHANGE = 22;

/**
 * Straight edges of the paper around the rings, sought on the unrolled sheet: rays from the centre
 * give the first few strong changes beyond the outermost ring, and four sides at right angles are
 * what most of the changes agree on. Bosses have straight edges too, but farther out.
 */
export function paperEdges(photo: Raster, state: CameraState): PaperEdges | null {
  const points = edgePoints(photo, state);
  if (points.length < 20) return null;
  const reach = Math.max(...points.map(({ x, y }) => Math.hypot(x, y)));
  const bin = outerRadiusMm(FACES[state.face]) * 0.012;
  const bins = Math.ceil(reach / bin) + 2;
  let best: { score: number; turn: number; offsets: number[] } | null = null;
  for (let half = -89; half <= 90; half++) {
    const turn = (half * Math.PI) / 360;
    const votes = [0, 1, 2, 3].map(() => new Float64Array(bins));
    for (const point of points) {
      for (let side = 0; side < 4; side++) {
        const normal = turn + (side * Math.PI) / 2;
        const offset = point.x * Math.cos(normal) + point.y * Math.sin(normal);
        if (offset < Math.hypot(point.x, point.y) * 0.6) continue;
        votes[side]![Math.floor(offset / bin)]! += point.weight;
      }
    }
    const offsets: number[] = [];
    let score = 0;
    for (const vote of votes) {
      let top = 0;
      let topAt = 0;
      for (let i = 1; i + 1 < bins; i++) {
        const sum = vote[i]! + 0.5 * (vote[i - 1]! + vote[i + 1]!);
        if (sum > top) {
          top = sum;
          topAt = i;
        }
      }
      offsets.push((topAt + 0.5) * bin);
      score += top * top;
    }
    if (!best || score > best.score) best = { score, turn, offsets };
  }
  return best ? refine(points, best.turn, best.offsets, bin) : null;
}

/** Fits a line to each side's points and takes the common direction. */
function refine(
  points: readonly EdgePoint[],
  turn: number,
  offsets: readonly number[],
  bin: number,
): PaperEdges | null {
  const directions: { error: number; variance: number }[] = [];
  offsets.forEach((offset, side) => {
    const normal = turn + (side * Math.PI) / 2;
    const cos = Math.cos(normal);
    const sin = Math.sin(normal);
    const local = points
      .map(({ x, y }) => ({ d: x * cos + y * sin, t: -x * sin + y * cos }))
      .filter(({ d, t }) => Math.abs(d - offset) < 3 * bin && d > Math.hypot(d, t) * 0.6);
    let line = { slope: 0, level: offset };
    let kept = local;
    let variance = Infinity;
    for (let pass = 0; pass < 6; pass++) {
      const gate = Math.max(0.5 * bin, (3 - 0.5 * pass) * bin);
      kept = local.filter(({ d, t }) => Math.abs(d - line.level - line.slope * t) < gate);
      if (kept.length < 8) return;
      const n = kept.length;
      const meanT = kept.reduce((sum, { t }) => sum + t, 0) / n;
      const meanD = kept.reduce((sum, { d }) => sum + d, 0) / n;
      const tt = kept.reduce((sum, { t }) => sum + (t - meanT) ** 2, 0);
      const td = kept.reduce((sum, { t, d }) => sum + (t - meanT) * (d - meanD), 0);
      if (!(tt > 0)) return;
      const slope = td / tt;
      line = { slope, level: meanD - slope * meanT };
      const rest = kept.reduce((sum, { d, t }) => sum + (d - line.level - slope * t) ** 2, 0);
      variance = (rest / n + (0.1 * bin) ** 2) / tt;
    }
    // A side seen over less than a fifth of its length says little of its direction.
    const span = Math.max(...kept.map(({ t }) => t)) - Math.min(...kept.map(({ t }) => t));
    if (span < 0.4 * offset || kept.length < 0.3 * local.length) return;
    // d = level + slope t: the side is turned by minus the slope.
    directions.push({ error: -Math.atan(line.slope), variance });
  });
  if (directions.length === 0) return null;
  const weights = directions.map(({ variance }) => 1 / (variance + 0.004 ** 2));
  const total = weights.reduce((a, b) => a + b, 0);
  const mean = directions.reduce((sum, { error }, i) => sum + error * weights[i]!, 0) / total;
  const spread = Math.sqrt(
    directions.reduce((sum, { error }, i) => sum + weights[i]! * (error - mean) ** 2, 0) / total,
  );
  let found = turn - mean;
  while (found > Math.PI / 4) found -= Math.PI / 2;
  while (found < -Math.PI / 4) found += Math.PI / 2;
  return {
    turn: found,
    sd: Math.hypot(1 / Math.sqrt(total), spread / Math.sqrt(directions.length)),
    sides: directions.length,
  };
}

/** The first strong changes of colour outward of the outermost ring, on the sheet. */
function edgePoints(photo: Raster, state: CameraState): EdgePoint[] {
  const projector = projectorOf(state);
  const outer = outerRadiusMm(FACES[state.face]);
  const centres = state.spotCentresMm;
  const [top, bottom] = [centres[0]!, centres.at(-1)!];
  const points: EdgePoint[] = [];
  const levels = new Float64Array(STEPS * 3);
  for (let k = 0; k < RAYS; k++) {
    const angle = (2 * Math.PI * k) / RAYS;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    // From the end spots outward, and from the line between them sideways.
    const centre = sin > 0.5 ? top : sin < -0.5 ? bottom : centres[(centres.length - 1) / 2]!;
    const from = outer * 1.01;
    const step = (outer * (FARTHEST - 1.01)) / STEPS;
    let count = 0;
    for (; count < STEPS; count++) {
      const r = from + count * step;
      projector.at(centre[0] + r * cos, centre[1] + r * sin);
      const x = Math.floor(projector.px[0]);
      const y = Math.floor(projector.px[1]);
      if (x < 1 || y < 1 || x >= photo.width - 1 || y >= photo.height - 1) break;
      for (let c = 0; c < 3; c++) {
        const i = (y * photo.width + x) * 4 + c;
        levels[3 * count + c] =
          (photo.data[i]! +
            photo.data[i - 4]! +
            photo.data[i + 4]! +
            photo.data[i - 4 * photo.width]! +
            photo.data[i + 4 * photo.width]!) /
          5;
      }
    }
    const width = 3;
    let found = 0;
    let last = -Infinity;
    for (let i = width; i + width < count && found < 3; i++) {
      const change = changeAt(levels, i, width);
      if (change < LEAST_CHANGE || i - last < 2 * width) continue;
      if (change < changeAt(levels, i + 1, width)) continue;
      last = i;
      const r = from + (i + 0.5) * step;
      points.push({
        angle,
        x: centre[0] + r * cos,
        y: centre[1] + r * sin,
        weight: found === 0 ? 1 : 0.45 / found,
      });
      found++;
    }
  }
  return points;
}

/** Largest change over the channels between the means on both sides of a sample. */
function changeAt(levels: Float64Array, at: number, width: number): number {
  let most = 0;
  for (let c = 0; c < 3; c++) {
    let before = 0;
    let after = 0;
    for (let j = 0; j < width; j++) {
      before += levels[3 * (at - j) + c]!;
      after += levels[3 * (at + 1 + j) + c]!;
    }
    most = Math.max(most, Math.abs(after - before) / width);
  }
  return most;
}
