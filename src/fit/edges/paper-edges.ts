import { pixelWords, RED_BLUE } from '../../raster/pixel-words.ts';
import type { Raster } from '../../raster/raster.ts';
import { projectorOf, type CameraState } from '../camera/camera-state.ts';

/** How the paper lies on the face's own axes. */
export interface PaperEdges {
  /** Angle by which the paper's "up" is turned from the state's, counter-clockwise, rad. */
  readonly turn: number;
  /** One standard deviation of it, rad. */
  readonly sd: number;
  /** Number of the paper's sides that were seen. */
  readonly sides: number;
}

export interface PaperSearch {
  /** Null where no straight edges are seen as the paper of a face hangs. */
  readonly paper: PaperEdges | null;
  /** Turn of far clearer edges at an angle at which no face hangs, rad; null where there are none. */
  readonly strayTurn: number | null;
}

/** Edges that agree on one direction of the paper. */
interface Direction {
  readonly turn: number;
  /** Per side: its distance from the centre, mm, and the weighted number of rays that end on it. */
  readonly offsets: readonly number[];
  readonly rays: readonly number[];
}

interface EdgePoint {
  readonly angle: number;
  readonly x: number;
  readonly y: number;
  /** From the centre, mm. */
  readonly distance: number;
  readonly weight: number;
}

const RAYS = 360;
/** Paper ends within this many radii of the outermost ring. */
const FARTHEST = 1.75;
const STEPS = 220;
/** Paper is not cut exactly along the print: one standard deviation, rad (from memory). */
const CUT_SD = 0.002;
/** Rims curl, so a side is not seen quite where it would lie flat: one standard deviation, rad. */
const CURL_SD = 0.004;
/** Least change of level (0 to 255) over the edge that counts. */
const LEAST_CHANGE = 22;

/** How often a face hangs, or a phone is held, far more crookedly than is usual, and by how much more. */
const CROOKED = { share: 0.15, times: 3 } as const;
/** Beyond this angle a corner cut off, or whatever else is straight, is likelier than so crooked a face. */
const MOST_TURN = (20 * Math.PI) / 180;
/** Directions that are tried, per degree. */
const TRIED_PER_DEGREE = 2;
/**
 * What a ray's edge says for a side that it lies on, in nats: neighbouring rays cross the same edge, so
 * only every tenth or so says anything new.
 */
const NATS_PER_RAY = 0.25;
/** Rays of one side beyond which more say nothing new. */
const MOST_RAYS = 40;
/** A direction that this much less speaks for than for the likeliest is as good as none, nats. */
const LEAST_GAIN = 2.5;
/** By this much edges at a stray angle must be clearer to be worth a word, nats. */
const CLEARLY_MORE = 6;
/** No side of the paper cuts the outermost ring, but arrows that stand within it do. */
const NEAREST = 0.97;

/**
 * Straight edges of the paper around the rings, sought on the unrolled sheet: rays from the centre
 * give the first few strong changes beyond the outermost ring, and four sides at right angles are
 * what most of the changes agree on. Bosses have straight edges too, but farther out, and papers
 * whose corners are cut off have eight sides: what a level phone and a well-hung face make likely
 * weighs the directions.
 *
 * @param state Turned so that up is where gravity makes it likeliest.
 * @param about The outermost ring's radius, and one standard deviation of up, rad.
 */
export function paperEdges(
  photo: Raster,
  state: CameraState,
  { outerMm: outer, upSd }: { readonly outerMm: number; readonly upSd: number },
): PaperSearch {
  const points = edgePoints(photo, state, outer);
  if (points.length < 20) return { paper: null, strayTurn: null };
  const bin = outer * 0.012;
  const found: Direction[] = [];
  for (let half = -45 * TRIED_PER_DEGREE + 1; half <= 45 * TRIED_PER_DEGREE; half++) {
    const turn = (half * Math.PI) / 180 / TRIED_PER_DEGREE;
    found.push(sidesAt(turn, points, NEAREST * outer, bin));
  }
  const speaks = found.map(({ rays }) =>
    rays.reduce((sum, count) => sum + NATS_PER_RAY * Math.min(count, MOST_RAYS), 0),
  );
  const nothing = [...speaks].sort((a, b) => a - b)[speaks.length >> 1]!;
  let best = -1;
  let bestNats = -Infinity;
  found.forEach(({ turn }, i) => {
    if (Math.abs(turn) > MOST_TURN) return;
    const nats = speaks[i]! + logLikely(turn, upSd);
    if (nats > bestNats) {
      bestNats = nats;
      best = i;
    }
  });
  const stray = speaks.indexOf(Math.max(...speaks));
  const strays =
    Math.abs(found[stray]!.turn) > MOST_TURN && speaks[stray]! > speaks[best]! + CLEARLY_MORE;
  const strayTurn = strays ? found[stray]!.turn : null;
  if (speaks[best]! < nothing + LEAST_GAIN) return { paper: null, strayTurn };
  const { turn, offsets } = found[best]!;
  return { paper: refine(points, turn, offsets, bin), strayTurn };
}

/** The four sides that most edges agree on when the paper is turned so. */
function sidesAt(
  turn: number,
  points: readonly EdgePoint[],
  nearest: number,
  bin: number,
): Direction {
  const offsets: number[] = [];
  const rays: number[] = [];
  for (let side = 0; side < 4; side++) {
    const normal = turn + (side * Math.PI) / 2;
    const cos = Math.cos(normal);
    const sin = Math.sin(normal);
    const vote = new Float64Array(Math.ceil((FARTHEST * nearest) / NEAREST / bin) + 2);
    for (const { x, y, distance, weight } of points) {
      const offset = x * cos + y * sin;
      if (offset >= nearest && offset >= 0.6 * distance) {
        vote[Math.floor(offset / bin)]! += weight;
      }
    }
    let top = 0;
    let topAt = 0;
    for (let i = 1; i + 1 < vote.length; i++) {
      const sum = vote[i]! + 0.5 * (vote[i - 1]! + vote[i + 1]!);
      if (sum > top) {
        top = sum;
        topAt = i;
      }
    }
    offsets.push((topAt + 0.5) * bin);
    rays.push(top);
  }
  return { turn, offsets, rays };
}

/** Logarithm of how likely a turn from where gravity has up is, up to a constant. */
function logLikely(turn: number, sd: number): number {
  const bell = (width: number) => Math.exp(-0.5 * (turn / width) ** 2) / width;
  return Math.log((1 - CROOKED.share) * bell(sd) + CROOKED.share * bell(CROOKED.times * sd));
}

/** Slopes of a side against the common direction that are tried, and how far apart. */
const SLOPES = 13;
const SLOPE_STEP = 0.004;

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
      .map(({ x, y, distance, weight }) => ({
        d: x * cos + y * sin,
        t: -x * sin + y * cos,
        distance,
        weight,
      }))
      .filter(({ d, distance }) => Math.abs(d - offset) < 4 * bin && d > 0.6 * distance);
    const start = densestLine(local, offset, bin);
    let { slope, level } = start;
    let kept: typeof local = [];
    let variance = Infinity;
    for (let pass = 0; pass < 4; pass++) {
      kept = local.filter(({ d, t }) => Math.abs(d - level - slope * t) < 0.5 * bin);
      if (kept.length < 8) return;
      const total = kept.reduce((sum, { weight }) => sum + weight, 0);
      const meanT = kept.reduce((sum, { t, weight }) => sum + weight * t, 0) / total;
      const meanD = kept.reduce((sum, { d, weight }) => sum + weight * d, 0) / total;
      const tt = kept.reduce((sum, { t, weight }) => sum + weight * (t - meanT) ** 2, 0);
      const td = kept.reduce(
        (sum, { t, d, weight }) => sum + weight * (t - meanT) * (d - meanD),
        0,
      );
      if (!(tt > 0)) return;
      slope = td / tt;
      level = meanD - slope * meanT;
      const rest = kept.reduce(
        (sum, { d, t, weight }) => sum + weight * (d - level - slope * t) ** 2,
        0,
      );
      variance = (rest / total + (0.1 * bin) ** 2) / tt;
    }
    // A side must be seen over a good part of its length to tell its direction.
    const places = kept.map(({ t }) => t).sort((a, b) => a - b);
    const span = places.at(-1)! - places[0]!;
    let widestGap = 0;
    for (let i = 1; i < places.length; i++) {
      widestGap = Math.max(widestGap, places[i]! - places[i - 1]!);
    }
    if (span < 0.5 * offset || widestGap > 0.6 * span) return;
    // d = level + slope t: the side is turned by minus the slope.
    directions.push({ error: -Math.atan(slope), variance });
  });
  if (directions.length === 0) return null;
  // A side hidden by something straight points elsewhere: it counts the less the farther it is from
  // what the others agree on.
  const errors = directions.map(({ error }) => error).sort((a, b) => a - b);
  let mean = (errors[(errors.length - 1) >> 1]! + errors[errors.length >> 1]!) / 2;
  let weights: number[] = [];
  let total = 0;
  for (let pass = 0; pass < 10; pass++) {
    weights = directions.map(({ error, variance }) => {
      const own = variance + CURL_SD ** 2;
      return 1 / own / (1 + (error - mean) ** 2 / own);
    });
    total = weights.reduce((a, b) => a + b, 0);
    mean = directions.reduce((sum, { error }, i) => sum + error * weights[i]!, 0) / total;
  }
  const spread = Math.sqrt(
    directions.reduce((sum, { error }, i) => sum + weights[i]! * (error - mean) ** 2, 0) / total,
  );
  let found = turn + mean;
  while (found > Math.PI / 4) found -= Math.PI / 2;
  while (found < -Math.PI / 4) found += Math.PI / 2;
  return {
    turn: found,
    sd: Math.hypot(1 / Math.sqrt(total), spread / Math.sqrt(directions.length), CUT_SD),
    sides: directions.length,
  };
}

/** The line d = level + slope t with most points on it. */
function densestLine(
  points: readonly { d: number; t: number; weight: number }[],
  offset: number,
  bin: number,
): { slope: number; level: number } {
  const cell = 0.25 * bin;
  const half = 20;
  let best = { slope: 0, level: offset, votes: -1 };
  for (let k = 0; k < SLOPES; k++) {
    const slope = (k - (SLOPES - 1) / 2) * SLOPE_STEP;
    const votes = new Float64Array(2 * half + 1);
    for (const { d, t, weight } of points) {
      const i = Math.round((d - slope * t - offset) / cell) + half;
      if (i >= 0 && i < votes.length) votes[i]! += weight;
    }
    for (let i = 1; i + 1 < votes.length; i++) {
      const sum = votes[i]! + votes[i - 1]! + votes[i + 1]!;
      if (sum > best.votes) best = { slope, level: offset + (i - half) * cell, votes: sum };
    }
  }
  return best;
}

/** The first strong changes of colour outward of the outermost ring, on the sheet. */
function edgePoints(photo: Raster, state: CameraState, outer: number): EdgePoint[] {
  const projector = projectorOf(state);
  const points: EdgePoint[] = [];
  const words = pixelWords(photo);
  const levels = new Float64Array(STEPS * 3);
  for (let k = 0; k < RAYS; k++) {
    const angle = (2 * Math.PI * k) / RAYS;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const from = outer * 1.01;
    const step = (outer * (FARTHEST - 1.01)) / STEPS;
    let count = 0;
    for (; count < STEPS; count++) {
      const r = from + count * step;
      projector.at(r * cos, r * sin);
      const x = Math.floor(projector.px[0]);
      const y = Math.floor(projector.px[1]);
      if (x < 1 || y < 1 || x >= photo.width - 1 || y >= photo.height - 1) break;
      const i = y * photo.width + x;
      const here = words[i]! | 0;
      const left = words[i - 1]! | 0;
      const right = words[i + 1]! | 0;
      const above = words[i - photo.width]! | 0;
      const below = words[i + photo.width]! | 0;
      const redBlue =
        (here & RED_BLUE) +
        (left & RED_BLUE) +
        (right & RED_BLUE) +
        (above & RED_BLUE) +
        (below & RED_BLUE);
      levels[3 * count] = (redBlue & 0xffff) / 5;
      levels[3 * count + 1] =
        (((here >>> 8) & 0xff) +
          ((left >>> 8) & 0xff) +
          ((right >>> 8) & 0xff) +
          ((above >>> 8) & 0xff) +
          ((below >>> 8) & 0xff)) /
        5;
      levels[3 * count + 2] = (redBlue >>> 16) / 5;
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
        x: r * cos,
        y: r * sin,
        distance: r,
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
