import type { PhotoPx } from '../../face/coordinates.ts';
import type { Face } from '../../face/faces.ts';
import { labelRegions, type Region } from '../../raster/label-regions.ts';
import type { OpenCv } from '../../raster/load-open-cv.ts';
import type { Raster } from '../../raster/raster.ts';
import type { PhotoCopy } from '../../raster/shrink.ts';
import { conicThrough, ellipseOf, reachOf, type Conic } from '../camera/conic.ts';
import { colourIndex, inkCosts, type InkCosts } from './ink-costs.ts';
import { raySegmenter, type RaySegmenter, type ZoneModel } from './segment-ray.ts';

/** Border between two inks, by the ink within it. */
export type BorderName = 'yellow' | 'red' | 'blue' | 'black';

export interface Border {
  /** Outer border of this ink. */
  readonly name: BorderName;
  /** Ellipse through the border, photo pixels. */
  readonly conic: Conic;
  /** Places on the border that agree with the ellipse, photo pixels. */
  readonly points: readonly PhotoPx[];
  /** Share of all directions in which the border was seen. */
  readonly support: number;
}

/** One set of rings that was found in the photo. */
export interface SpotCandidate {
  readonly kind: 'target' | 'field';
  readonly centrePx: PhotoPx;
  readonly borders: readonly Border[];
  /** Mean half axis of the yellow, photo pixels. */
  readonly yellowPx: number;
  /** Families it may belong to, likeliest first. */
  readonly families: readonly Face['family'][];
  /** How much was seen of the borders that its likeliest family shows, 0 to 1. */
  readonly support: number;
}

/** Rays of the closer look at a face, and of the first, which only has to tell where its middle is. */
const RAYS = 120;
const FIRST_RAYS = 40;
/** Yellows of a smaller mean half axis, in pixels of the copy, are specks of grass or cloth. */
const LEAST_YELLOW_PX = 5;
/** Ten zones end at five radii of the yellow, the paper around them hardly beyond seven. */
const BEYOND_RINGS = 8;
/**
 * How far first looks go, in radii of a disc of the region's area. Where the boss is as yellow as the
 * gold, a look no farther than the paper sees more clearly; arrows may leave a tenth of the yellow in one
 * piece, from which even the black of field faces is to be reached.
 */
const FIRST_LOOKS = [BEYOND_RINGS, 5 * Math.sqrt(10)];
/** A border seen in less than this share of directions is not taken as seen. */
const LEAST_SUPPORT = 0.3;

const TARGET: ZoneModel = {
  inks: ['yellow', 'red', 'blue', 'black', 'white', 'outside'],
  after: [0, 0, 1, 2, 2, 2],
};
const FIELD: ZoneModel = {
  inks: ['yellow', 'black', 'white', 'outside'],
  after: [0, 0, 1, 1],
};

/** How inks are looked for: their strength, and how much of the photo is as bright as its white. */
interface Look {
  readonly strength: number;
  readonly whiteShare: number;
}
const FULL_INKS: readonly Look[] = [
  { strength: 1, whiteShare: 0.03 },
  { strength: 1, whiteShare: 0.01 },
];
const FADED_INKS: readonly Look[] = [
  { strength: 0.5, whiteShare: 0.03 },
  { strength: 0.28, whiteShare: 0.03 },
];

/** Finds every set of rings in a small copy of the photo, the largest and most complete first. */
export function findCandidates({ raster, factor }: PhotoCopy, cv: OpenCv): SpotCandidate[] {
  const lookFor = ({ strength, whiteShare }: Look): SpotCandidate[] =>
    candidatesAt(raster, factor, inkCosts(raster, strength, whiteShare), cv);
  let first: SpotCandidate[] = [];
  for (const look of FULL_INKS) {
    const found = lookFor(look);
    if (found.some(({ kind }) => kind === 'target')) return found;
    // By a wrong white a face with coloured rings may look like a field face, not the other way round.
    if (first.length === 0) first = found;
  }
  if (first.length > 0) return first;
  for (const look of FADED_INKS) {
    const found = lookFor(look);
    if (found.length > 0) return found;
  }
  return [];
}

function candidatesAt(
  raster: Raster,
  factor: number,
  costs: InkCosts,
  cv: OpenCv,
): SpotCandidate[] {
  const colours = new Uint16Array(raster.width * raster.height);
  const yellow = new Uint8Array(colours.length);
  for (let i = 0, p = 0; i < colours.length; i++, p += 4) {
    const index = colourIndex(raster.data[p]!, raster.data[p + 1]!, raster.data[p + 2]!);
    colours[i] = index;
    if (costs.of.yellow[index]! < 0.5) yellow[i] = 255;
  }
  const { width, height } = raster;
  const longest = Math.ceil(Math.hypot(width, height));
  const small: Small = { width, height, colours, segmenters: segmentersOf(costs, longest) };
  const span = Math.max(raster.width, raster.height);
  const regions = labelRegions(
    cv,
    { width: raster.width, height: raster.height, data: yellow },
    { closePx: span / 250, minAreaPx: (span / 100) ** 2, most: 24 },
  );
  const found: SpotCandidate[] = [];
  for (const region of regions) {
    const radius = Math.sqrt(region.areaPx / Math.PI);
    for (const seed of seedsOf(region)) {
      const known = found.some(
        (other) =>
          Math.hypot(other.centrePx[0] - seed[0] * factor, other.centrePx[1] - seed[1] * factor) <
          other.yellowPx * 0.9,
      );
      if (known) break;
      const spot = firstSpot(small, seed, radius, factor);
      if (spot) {
        found.push(spot);
        break;
      }
    }
  }
  return withoutDoubles(found).sort((a, b) => b.support * b.yellowPx - a.support * a.yellowPx);
}

/** Places in a region to look from: its middle too where that is a really different one. */
function seedsOf({ deepestPx, centrePx, depthPx }: Region): (readonly [number, number])[] {
  const apart = Math.hypot(deepestPx[0] - centrePx[0], deepestPx[1] - centrePx[1]);
  return apart > depthPx ? [deepestPx, centrePx] : [deepestPx];
}

interface Small {
  readonly width: number;
  readonly height: number;
  readonly colours: Uint16Array;
  /** Per kind of face, what finds its zones along a ray. */
  readonly segmenters: Readonly<Record<SpotCandidate['kind'], RaySegmenter>>;
}

const MODELS: Readonly<Record<SpotCandidate['kind'], ZoneModel>> = { target: TARGET, field: FIELD };

function segmentersOf(costs: InkCosts, longest: number): Small['segmenters'] {
  const of = (model: ZoneModel) =>
    raySegmenter(
      model,
      model.inks.map((ink) => (ink === 'outside' ? null : costs.of[ink])),
      costs.of.yellow.length,
      longest,
    );
  return { target: of(MODELS.target), field: of(MODELS.field) };
}

/** @param radius Of a disc of the seed's region's area, pixels of the copy. */
function firstSpot(
  small: Small,
  seed: readonly [number, number],
  radius: number,
  factor: number,
): SpotCandidate | null {
  for (const radii of FIRST_LOOKS) {
    const spot = spotAround(small, seed, radii * radius, factor);
    if (spot) return spot;
  }
  return null;
}

function spotAround(
  small: Small,
  seed: readonly [number, number],
  reach: number,
  factor: number,
): SpotCandidate | null {
  const target = spotOfKind(small, seed, reach, factor, 'target');
  // Most of the borders of red and blue cannot be there by chance on a face that has neither.
  if (target && target.support > 0.5) return target;
  const field = spotOfKind(small, seed, reach, factor, 'field');
  return target && field ? (field.support > target.support ? field : target) : (target ?? field);
}

/** @param reach How far from the seed the first look goes, pixels of the copy. */
function spotOfKind(
  small: Small,
  seed: readonly [number, number],
  reach: number,
  factor: number,
  kind: SpotCandidate['kind'],
): SpotCandidate | null {
  let centre = seed;
  let shape: Conic | null = null;
  let borderOf: BorderFinder;
  // From the seed the rays crowd on one side: cast them again from the ellipse that they give.
  for (const rays of [FIRST_RAYS, RAYS]) {
    const seen = castRays(small, kind, centre, shape ?? reach, rays);
    borderOf = borderFinder(seen, centre, rays);
    const outer = borderOf(kind === 'target' ? 'red' : 'black');
    const main = outer && (borderOf('yellow') ?? (borderOf('blue') && outer));
    if (!main) return null;
    centre = ellipseOf(main.conic)!.centre;
    shape = main.conic;
  }
  return judge(kind, borderOf!, factor);
}

/** A place on a border between two inks. */
interface BorderPlace {
  /** Number of the ray on which it was seen. */
  readonly ray: number;
  readonly point: readonly [number, number];
  /** From the rays' centre. */
  readonly distance: number;
}

/**
 * Casts rays and notes where they cross borders: evenly in the measure of the shape of a border or,
 * where none is known yet, all of one length in pixels.
 */
function castRays(
  small: Small,
  kind: SpotCandidate['kind'],
  centre: readonly [number, number],
  shape: Conic | number,
  rays: number,
): ReadonlyMap<BorderName, readonly BorderPlace[]> {
  const model = MODELS[kind];
  const segmenter = small.segmenters[kind];
  const ellipse = typeof shape === 'number' ? null : ellipseOf(shape);
  const ray = new Uint16Array(Math.ceil(Math.hypot(small.width, small.height)));
  const seen = new Map<BorderName, BorderPlace[]>();
  for (let k = 0; k < rays; k++) {
    let [dx, dy] = [Math.cos((2 * Math.PI * k) / rays), Math.sin((2 * Math.PI * k) / rays)];
    if (ellipse) {
      const [a, b] = ellipse.semiAxes;
      const cos = Math.cos(ellipse.angle);
      const sin = Math.sin(ellipse.angle);
      [dx, dy] = [a * dx * cos - b * dy * sin, a * dx * sin + b * dy * cos];
      const length = Math.hypot(dx, dy);
      dx /= length;
      dy /= length;
    }
    // Beyond the paper around the rings there is nothing to find.
    const farthest = Math.min(
      ray.length,
      typeof shape === 'number'
        ? shape
        : BEYOND_RINGS * (reachOf(shape, centre, [dx, dy]) || Infinity),
    );
    let length = 0;
    for (; length < farthest; length++) {
      const x = Math.floor(centre[0] + dx * length);
      const y = Math.floor(centre[1] + dy * length);
      if (x < 0 || y < 0 || x >= small.width || y >= small.height) break;
      ray[length] = small.colours[y * small.width + x]!;
    }
    if (length < 4) continue;
    const begins = segmenter.segment(ray, length);
    for (let zone = 0; zone + 1 < model.inks.length; zone++) {
      const name = model.inks[zone]!;
      if (name === 'white' || name === 'outside' || begins[zone]! < 0) continue;
      const end = begins.slice(zone + 1).find((begin) => begin > 0);
      if (end === undefined) continue;
      // Sample `end` is the first beyond the border.
      const distance = end - 0.5;
      const list = seen.get(name) ?? [];
      list.push({
        ray: k,
        point: [centre[0] + dx * distance, centre[1] + dy * distance],
        distance,
      });
      seen.set(name, list);
    }
  }
  return seen;
}

/** The border of an ink, null where it was not seen. */
type BorderFinder = (name: BorderName) => Border | null;

/** Fits a border when it is first asked for: most looks end with the first ones, which no face is around. */
function borderFinder(
  seen: ReadonlyMap<BorderName, readonly BorderPlace[]>,
  centre: readonly [number, number],
  rays: number,
): BorderFinder {
  const fitted = new Map<BorderName, Border | null>();
  return (name) => {
    let border = fitted.get(name);
    if (border === undefined) {
      border = fitBorder(name, seen.get(name) ?? [], centre, rays);
      fitted.set(name, border);
    }
    return border;
  };
}

/** Consensus ellipse of a border's points; the draws are spread evenly, not random. */
function fitBorder(
  name: BorderName,
  list: readonly BorderPlace[],
  centre: readonly [number, number],
  rays: number,
): Border | null {
  if (list.length < rays * LEAST_SUPPORT) return null;
  const agreeing = (conic: Conic): BorderPlace[] =>
    list.filter(({ point, distance }) => {
      const dx = (point[0] - centre[0]) / distance;
      const dy = (point[1] - centre[1]) / distance;
      const reach = reachOf(conic, centre, [dx, dy]);
      return Math.abs(reach - distance) < Math.max(1.2, 0.025 * distance);
    });
  const ellipseThrough = (points: readonly (readonly [number, number])[]) => {
    const conic = conicThrough(points, centre);
    return conic && { conic, inliers: agreeing(conic) };
  };
  let best: ReturnType<typeof ellipseThrough> = null;
  let state = 12345;
  const draw = (below: number): number => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    return Math.floor((state / 0x80000000) * below);
  };
  const sectors = Array.from({ length: 6 }, (): BorderPlace['point'][] => []);
  let enough = MOST_TRIALS;
  for (let trial = 0; trial < enough; trial++) {
    // One point from each of six sectors, so that the draw spans the ellipse.
    const turn = draw(rays);
    for (const sector of sectors) sector.length = 0;
    for (const seen of list) {
      sectors[Math.floor((((seen.ray + turn) % rays) * sectors.length) / rays)]!.push(seen.point);
    }
    const points = sectors
      .filter((sector) => sector.length > 0)
      .map((sector) => sector[draw(sector.length)]!);
    if (points.length < 5) break;
    const drawn = ellipseThrough(points);
    if (!drawn || (best && drawn.inliers.length <= best.inliers.length)) continue;
    // Six points place an ellipse roughly: all that agree with it place it better (Chum and others 2003).
    const refined = ellipseThrough(drawn.inliers.map(({ point }) => point));
    best = refined && refined.inliers.length > drawn.inliers.length ? refined : drawn;
    enough = Math.min(enough, trialsFor((best.inliers.length / list.length) ** points.length));
  }
  // Seen on one side only: take all there is.
  best ??= ellipseThrough(list.map(({ point }) => point));
  if (!best) return null;
  for (let pass = 0; pass < 3; pass++) {
    best = ellipseThrough(best.inliers.map(({ point }) => point)) ?? best;
  }
  const support = best.inliers.length / rays;
  if (support < LEAST_SUPPORT || !ellipseOf(best.conic)) return null;
  return { name, conic: best.conic, points: best.inliers.map(({ point }) => point), support };
}

/** Most draws of a consensus ellipse, and how surely one of the draws shall have been of the border alone. */
const MOST_TRIALS = 120;
const SURE = 0.999;

/**
 * Draws after which one without outliers has come up that surely, when each is without them with
 * probability `clean` (Fischler and Bolles 1981).
 */
function trialsFor(clean: number): number {
  return clean < 1 ? Math.log(1 - SURE) / Math.log1p(-clean) : 0;
}

/** Borders between inks that a whole face shows. */
const BORDERS: Readonly<Record<Face['family'], number>> = {
  'ten-ring': 4,
  'six-ring': 3,
  triple: 3,
  field: 2,
};

/** Checks that the borders nest like those of a face, and says which families they fit. */
function judge(
  kind: SpotCandidate['kind'],
  borderOf: BorderFinder,
  factor: number,
): SpotCandidate | null {
  const size = (name: BorderName): number | null => {
    const border = borderOf(name);
    const ellipse = border ? ellipseOf(border.conic) : null;
    return ellipse ? Math.sqrt(ellipse.semiAxes[0] * ellipse.semiAxes[1]) : null;
  };
  const near = (value: number | null, expected: number): boolean =>
    value !== null && Math.abs(Math.log(value / expected)) < Math.log(1.18);
  let yellow = size('yellow');
  let families: Face['family'][];
  let shown: BorderName[];
  if (kind === 'target') {
    const red = size('red');
    yellow ??= red! / 2;
    if (!near(red, 2 * yellow)) return null;
    const blue = size('blue');
    const sixRing = near(blue, 3 * yellow);
    const triple = blue !== null && blue < 2.74 * yellow && blue > 2.25 * yellow;
    const ten = sixRing && near(size('black'), 4 * yellow);
    if (ten) families = ['ten-ring'];
    else if (triple) families = ['triple', 'six-ring', 'ten-ring'];
    else if (sixRing) families = ['six-ring', 'ten-ring', 'triple'];
    else return null;
    shown = ten ? ['yellow', 'red', 'blue', 'black'] : ['yellow', 'red', 'blue'];
  } else {
    if (yellow === null || !near(size('black'), 5 * yellow)) return null;
    families = ['field'];
    shown = ['yellow', 'black'];
  }
  const kept = shown.map(borderOf).filter((border) => border !== null);
  const main = kept.find(({ name }) => name === 'yellow') ?? kept[0]!;
  const ellipse = ellipseOf(main.conic)!;
  if (ellipse.semiAxes[1] < 0.2 * ellipse.semiAxes[0] || yellow < LEAST_YELLOW_PX) return null;
  const support = kept.reduce((sum, border) => sum + border.support, 0) / BORDERS[families[0]!];
  const scaled = kept.map((border) => ({
    ...border,
    conic: enlarged(border.conic, factor),
    points: border.points.map(([x, y]) => [x * factor, y * factor] as const),
  }));
  return {
    kind,
    centrePx: [ellipse.centre[0] * factor, ellipse.centre[1] * factor],
    borders: scaled,
    yellowPx: yellow * factor,
    families,
    support,
  };
}

/** The conic in a picture `factor` times as large. */
function enlarged(conic: Conic, factor: number): Conic {
  const weights = [1 / factor, 1 / factor, 1];
  return conic.map((value, i) => value * weights[Math.floor(i / 3)]! * weights[i % 3]!);
}

/** Two seeds may lead to one face: keep the better. */
function withoutDoubles(spots: readonly SpotCandidate[]): SpotCandidate[] {
  const kept: SpotCandidate[] = [];
  for (const spot of [...spots].sort((a, b) => b.support - a.support)) {
    const double = kept.some(
      (other) =>
        Math.hypot(other.centrePx[0] - spot.centrePx[0], other.centrePx[1] - spot.centrePx[1]) <
        Math.max(other.yellowPx, spot.yellowPx),
    );
    if (!double) kept.push(spot);
  }
  return kept;
}
