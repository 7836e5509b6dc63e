import type { PhotoPx } from '../../face/coordinates.ts';
import type { Family, Ink } from '../../face/faces.ts';
import { LOOKS, seenReach, WIDEST_REACH, type FamilyLook, type Look } from '../../face/looks.ts';
import { labelRegions, type Region } from '../../raster/label-regions.ts';
import type { OpenCv } from '../../raster/load-open-cv.ts';
import type { PhotoCopy } from '../../raster/shrink.ts';
import { conicThrough, ellipseOf, reachOf, type Conic } from '../camera/conic.ts';
import { coloursOf, inkCosts, type InkCosts, type InkSight } from './ink-costs.ts';
import { spreadAround } from './spread-around.ts';
import { raySegmenter, type RaySegmenter, type ZoneModel } from './segment-ray.ts';

export interface Border {
  /** Which band of the look ends here, counted from the middle. */
  readonly band: number;
  /** Ellipse through the border, photo pixels. */
  readonly conic: Conic;
  /** Places on the border that agree with the ellipse, photo pixels. */
  readonly points: readonly PhotoPx[];
  /** Share of all directions in which the border was seen. */
  readonly support: number;
}

/** One set of rings that was found in the photo. */
export interface SpotCandidate {
  readonly look: Look;
  /** How its inks were seen. */
  readonly inks: InkCosts;
  readonly centrePx: PhotoPx;
  readonly borders: readonly Border[];
  /** Mean half axis of the innermost ink, photo pixels. */
  readonly innermostPx: number;
  /** Families it may belong to, likeliest first. */
  readonly families: readonly Family[];
  /** How much was seen of the borders that its likeliest family shows, 0 to 1. */
  readonly support: number;
}

/** A spot before it is said how its inks were seen. */
type UnsightedSpot = Omit<SpotCandidate, 'inks'>;

/** Rays of the closer look at a face, and of the first, which only has to tell where its middle is. */
const RAYS = 120;
const FIRST_RAYS = 40;
/** Innermost inks of a smaller mean half axis, in pixels of the copy, are specks of grass or cloth. */
const LEAST_INNERMOST_PX = 5;
/** So far out, in radii of the innermost ink, the paper around the rings has ended too. */
const BEYOND_RINGS = 1.6 * WIDEST_REACH;
/**
 * How far first looks go, in radii of a disc of the region's area. Where the boss is as yellow as the
 * gold, a look no farther than the paper sees more clearly; arrows may leave a tenth of the innermost ink
 * in one piece, from which even the widest face is to be reached.
 */
const FIRST_LOOKS = [BEYOND_RINGS, WIDEST_REACH * Math.sqrt(10)];
/**
 * Where an ink comes again farther out, shafts are bridges between both, and to the paper's surroundings:
 * half widths of bridges that are cut, in lengths of the copy. Wider ones, as of several shafts side by
 * side, where cutting the narrow ones shows nothing.
 */
const BRIDGES = [1 / 150, 1 / 60];
/** A border seen in less than this share of directions is not taken as seen. */
const LEAST_SUPPORT = 0.3;

/** Inks that are innermost in some look. */
const MIDDLES: readonly Ink[] = [...new Set(LOOKS.map(({ inks }) => inks[0]!))];

/** Looks around an innermost ink, those of most inks first: they are the least likely by chance. */
function looksAround(middle: Ink): Look[] {
  return LOOKS.filter(({ inks }) => inks[0] === middle).sort(
    (a, b) => b.inks.length - a.inks.length,
  );
}

/**
 * The zones that a ray from the middle of a look crosses: its inks, the white paper, and whatever lies
 * beyond. Where one family ends, the paper may follow though others go on.
 */
function zoneModel({ inks, families }: Look): ZoneModel {
  const zones: ZoneModel['inks'] = [
    ...inks,
    ...(inks.at(-1) === 'white' ? [] : (['white'] as const)),
    'outside',
  ];
  const firstEnd = Math.min(...families.map(({ borders }) => borders)) - 1;
  return { inks: zones, after: zones.map((_, zone) => Math.max(0, Math.min(zone - 1, firstEnd))) };
}

const FULL_INKS: readonly InkSight[] = [
  { strength: 1, whiteShare: 0.03 },
  { strength: 1, whiteShare: 0.01 },
];
const FADED_INKS: readonly InkSight[] = [
  { strength: 0.5, whiteShare: 0.03 },
  { strength: 0.28, whiteShare: 0.03 },
];

/**
 * Finds every set of rings in a small copy of the photo, the largest and most complete first: lists
 * for each innermost ink around which there are any, made when they are asked for. Further lists of one
 * ink are of print that is seen as more and more faded.
 *
 * @param wanted Looked for first.
 */
export function* findCandidates(
  copy: PhotoCopy,
  wanted: Look | null,
  cv: OpenCv,
): Generator<SpotCandidate[], void, undefined> {
  const middles = [...MIDDLES];
  if (wanted) middles.sort((a, b) => Number(b === wanted.inks[0]) - Number(a === wanted.inks[0]));
  const colours = coloursOf(copy.raster);
  const costs = new Map<InkSight, InkCosts>();
  const costsBy = (sight: InkSight): InkCosts => {
    const known = costs.get(sight) ?? inkCosts(colours, sight.strength, sight.whiteShare);
    costs.set(sight, known);
    return known;
  };
  for (const middle of middles) yield* candidatesAround(middle, copy, colours.indices, costsBy, cv);
}

/** Those with this innermost ink. */
function* candidatesAround(
  middle: Ink,
  { raster, factor }: PhotoCopy,
  colours: Uint16Array,
  costsBy: (sight: InkSight) => InkCosts,
  cv: OpenCv,
): Generator<SpotCandidate[], void, undefined> {
  const looks = looksAround(middle);
  const seenBy = (sight: InkSight): SpotCandidate[] => {
    const inks = costsBy(sight);
    return candidatesAt({ ...raster, colours }, factor, looks, inks, cv).map((spot) => ({
      ...spot,
      inks,
    }));
  };
  let full: SpotCandidate[] = [];
  for (const sight of FULL_INKS) {
    const found = seenBy(sight);
    // By a wrong white a face with coloured rings may look like a field face, not the other way round.
    const isWhole = found.some(({ look }) => look === looks[0]);
    if (isWhole || full.length === 0) full = found;
    if (isWhole) break;
  }
  if (full.length > 0) yield full;
  for (const sight of FADED_INKS) {
    const faded = seenBy(sight);
    if (faded.length > 0) yield faded;
  }
}

function candidatesAt(
  { width, height, colours }: Omit<Small, 'sights'>,
  factor: number,
  looks: readonly Look[],
  costs: InkCosts,
  cv: OpenCv,
): UnsightedSpot[] {
  const middle = looks[0]!.inks[0]!;
  const returns = looks.some(({ inks }) => [...inks.slice(1), 'white'].includes(middle));
  const longest = Math.ceil(Math.hypot(width, height));
  const sights = looks.map((look) => sightOf(look, costs, longest));
  const small: Small = { width, height, colours, sights };
  const span = Math.max(width, height);
  const shape = { minAreaPx: (span / 100) ** 2, most: 24 };
  const maskOf = (ink: Ink) => {
    const costOf = costs.of[ink];
    const data = new Uint8Array(colours.length);
    for (let y = 0; y < height; y++) maskRow(colours, costOf, y * width, width, data);
    return { width, height, data };
  };
  const spotsBy = function* (): Generator<UnsightedSpot[], void, undefined> {
    const innermost = maskOf(middle);
    for (const bridge of returns ? BRIDGES : [0]) {
      const wide = { ...shape, openPx: bridge * span, closePx: span / 250 };
      yield spotsIn(labelRegions(cv, innermost, wide), small, factor, 1);
    }
    // Arrows may hide the middle: the ink around it, closed where shafts part it, lies about it all the same.
    const [, next] = looks[0]!.families[0]!.bands;
    if (!returns || !next) return;
    const around = maskOf(next.ink);
    for (const bridge of BRIDGES) {
      const wide = { ...shape, openPx: 0, closePx: bridge * span };
      yield spotsIn(labelRegions(cv, around, wide), small, factor, next.reach);
    }
  };
  for (const spots of spotsBy()) {
    const found = withoutDoubles(spots);
    if (found.length === 0) continue;
    return found.sort((a, b) => b.support * b.innermostPx - a.support * a.innermostPx);
  }
  return [];
}

/** Marks what may be of an ink in a row; a function of its own, which is compiled well once for all rows. */
function maskRow(
  colours: Uint16Array,
  costOf: Float32Array,
  from: number,
  width: number,
  mask: Uint8Array,
): void {
  for (let i = from; i < from + width; i++) if (costOf[colours[i]!]! < 0.5) mask[i] = 255;
}

/**
 * What is around regions of an ink; doubles are among it where two lead to one spot.
 *
 * @param reach How far the ink goes, in radii of the innermost one.
 */
function spotsIn(
  regions: readonly Region[],
  small: Small,
  factor: number,
  reach: number,
): UnsightedSpot[] {
  const found: UnsightedSpot[] = [];
  for (const region of regions) {
    const radius = Math.sqrt(region.areaPx / Math.PI) / reach;
    // What lies around the middle is nowhere as deep as there.
    for (const seed of reach > 1 ? [region.centrePx] : seedsOf(region)) {
      const known = found.some(
        (other) =>
          Math.hypot(other.centrePx[0] - seed[0] * factor, other.centrePx[1] - seed[1] * factor) <
          other.innermostPx * 0.9,
      );
      if (known) break;
      const spot = firstSpot(small, seed, radius, factor);
      if (spot) {
        found.push(spot);
        break;
      }
    }
  }
  return found;
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
  readonly sights: readonly Sight[];
}

/** A look, and what finds its zones along a ray. */
interface Sight {
  readonly look: Look;
  readonly segmenter: RaySegmenter;
}

function sightOf(look: Look, costs: InkCosts, longest: number): Sight {
  const model = zoneModel(look);
  const segmenter = raySegmenter(
    model,
    model.inks.map((ink) => (ink === 'outside' ? null : costs.of[ink])),
    costs.of[look.inks[0]!].length,
    longest,
  );
  return { look, segmenter };
}

/** @param radius Of a disc of the seed's region's area, pixels of the copy. */
function firstSpot(
  small: Small,
  seed: readonly [number, number],
  radius: number,
  factor: number,
): UnsightedSpot | null {
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
): UnsightedSpot | null {
  let best: UnsightedSpot | null = null;
  for (const sight of small.sights) {
    const spot = spotLike(sight, small, seed, reach, factor);
    // Most of the borders of a look cannot be there by chance on a face that has fewer of them.
    if (spot && spot.support > 0.5) return spot;
    if (spot && (!best || spot.support > best.support)) best = spot;
  }
  return best;
}

/** @param reach How far from the seed the first look goes, pixels of the copy. */
function spotLike(
  sight: Sight,
  small: Small,
  seed: readonly [number, number],
  reach: number,
  factor: number,
): UnsightedSpot | null {
  let centre = seed;
  let shape: Conic | null = null;
  let borderOf: BorderFinder;
  // From the seed the rays crowd on one side: cast them again from the ellipse that they give.
  for (const rays of [FIRST_RAYS, RAYS]) {
    const seen = castRays(small, sight, centre, shape ?? reach, rays);
    borderOf = borderFinder(seen, centre, rays);
    const outer = borderOf(1);
    const main = outer && (borderOf(0) ?? (borderOf(2) && outer));
    if (!main) return null;
    centre = ellipseOf(main.conic)!.centre;
    shape = main.conic;
  }
  return judge(sight.look, borderOf!, factor, small);
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
  { look, segmenter }: Sight,
  centre: readonly [number, number],
  shape: Conic | number,
  rays: number,
): ReadonlyMap<number, readonly BorderPlace[]> {
  const borders = Math.max(...look.families.map((family) => family.borders));
  const ellipse = typeof shape === 'number' ? null : ellipseOf(shape);
  const ray = new Uint16Array(Math.ceil(Math.hypot(small.width, small.height)));
  const seen = new Map<number, BorderPlace[]>();
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
    for (let band = 0; band < borders; band++) {
      if (begins[band]! < 0) continue;
      const end = begins.slice(band + 1).find((begin) => begin > 0);
      if (end === undefined) continue;
      // Sample `end` is the first beyond the border.
      const distance = end - 0.5;
      const list = seen.get(band) ?? [];
      list.push({
        ray: k,
        point: [centre[0] + dx * distance, centre[1] + dy * distance],
        distance,
      });
      seen.set(band, list);
    }
  }
  return seen;
}

/** The outer border of a band, null where it was not seen. */
type BorderFinder = (band: number) => Border | null;

/** Fits a border when it is first asked for: most looks end with the first ones, which no face is around. */
function borderFinder(
  seen: ReadonlyMap<number, readonly BorderPlace[]>,
  centre: readonly [number, number],
  rays: number,
): BorderFinder {
  const fitted = new Map<number, Border | null>();
  return (band) => {
    let border = fitted.get(band);
    if (border === undefined) {
      border = fitBorder(band, seen.get(band) ?? [], centre, rays);
      fitted.set(band, border);
    }
    return border;
  };
}

/** Consensus ellipse of a border's points; the draws are spread evenly, not random. */
function fitBorder(
  band: number,
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
  const ellipse = ellipseOf(best.conic);
  if (!ellipse) return null;
  const support = (best.inliers.length / rays) * spreadAround(ellipse, best.inliers, rays);
  if (support < LEAST_SUPPORT) return null;
  return { band, conic: best.conic, points: best.inliers.map(({ point }) => point), support };
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

/** A border may be off by so much, as a factor, by noise and by looking from the side. */
const NEAR = 1.18;

/** Whether a border lies where a band of a family ends, rather than where the one within it does. */
function endsThere(size: number | null, innermost: number, bands: FamilyLook['bands'], i: number) {
  if (size === null) return false;
  const off = size / (bands[i]!.reach * innermost);
  return off < NEAR && off > Math.max(1 / NEAR, Math.sqrt(bands[i - 1]!.reach / bands[i]!.reach));
}

/** Checks that the borders nest like those of a face, and says which families they fit. */
function judge(
  look: Look,
  borderOf: BorderFinder,
  factor: number,
  small: Pick<Small, 'width' | 'height'>,
): UnsightedSpot | null {
  const size = (band: number): number | null => {
    const border = borderOf(band);
    const ellipse = border ? ellipseOf(border.conic) : null;
    return ellipse ? Math.sqrt(ellipse.semiAxes[0] * ellipse.semiAxes[1]) : null;
  };
  const innermost = size(0) ?? size(1)! / look.families[0]!.bands[1]!.reach;
  /** How far the outermost border is from where the family has it. */
  const farOff = (family: FamilyLook): number =>
    Math.abs(Math.log(size(family.borders - 1)! / (seenReach(family) * innermost)));
  const [best] = look.families
    .filter(({ borders, bands }) => {
      for (let i = 1; i < borders; i++) {
        if (!endsThere(size(i), innermost, bands, i)) return false;
      }
      return true;
    })
    .sort((a, b) => b.borders - a.borders || farOff(a) - farOff(b));
  if (!best) return closeUp(look, borderOf, factor, small);
  // What goes on farther may have gone unseen, what ends before cannot have been seen so far.
  const others = look.families.filter((one) => one !== best && one.borders >= best.borders);
  const families = [best, ...others].map(({ family }) => family);
  const shown = best.bands.slice(0, best.borders).map((_, band) => band);
  const kept = shown.map(borderOf).filter((border) => border !== null);
  const main = kept.find(({ band }) => band === 0) ?? kept[0]!;
  const ellipse = ellipseOf(main.conic)!;
  if (ellipse.semiAxes[1] < 0.2 * ellipse.semiAxes[0] || innermost < LEAST_INNERMOST_PX) {
    return null;
  }
  const support = kept.reduce((sum, border) => sum + border.support, 0) / best.borders;
  return {
    look,
    centrePx: [ellipse.centre[0] * factor, ellipse.centre[1] * factor],
    borders: scaled(kept, factor),
    innermostPx: innermost * factor,
    families,
    support,
  };
}

/**
 * Least support of the two inner borders of a face whose others lie outside the picture, as a share of the
 * directions in which they lie within it.
 */
const CLOSE_SUPPORT = 0.5;

/** A face of which the picture shows but the two innermost inks as a whole. */
function closeUp(
  look: Look,
  borderOf: BorderFinder,
  factor: number,
  { width, height }: Pick<Small, 'width' | 'height'>,
): UnsightedSpot | null {
  const [inner, outer] = [borderOf(0), borderOf(1)];
  const { bands } = look.families[0]!;
  if (look.inks.length < 3 || !inner || !outer) return null;
  const picture = { width, height };
  if ([inner, outer].some((border) => border.support < CLOSE_SUPPORT * shareIn(picture, border))) {
    return null;
  }
  const [a, b] = [ellipseOf(inner.conic)!, ellipseOf(outer.conic)!];
  const innermost = Math.sqrt(a.semiAxes[0] * a.semiAxes[1]);
  const size = Math.sqrt(b.semiAxes[0] * b.semiAxes[1]);
  if (!endsThere(size, innermost, bands, 1)) return null;
  // Where the third ink could end within the picture, it would have been seen to.
  const [x, y] = a.centre;
  const reach = Math.min(...look.families.map((family) => family.bands[2]!.reach)) * innermost;
  const out = [x < reach, y < reach, width - x < reach, height - y < reach].filter(Boolean).length;
  if (out < 2) return null;
  return {
    look,
    centrePx: [x * factor, y * factor],
    borders: scaled([inner, outer], factor),
    innermostPx: innermost * factor,
    families: look.families.map(({ family }) => family),
    support: (inner.support + outer.support) / 2,
  };
}

/** Share of all directions in which a border lies within a picture, in the measure of its ellipse. */
function shareIn({ width, height }: Pick<Small, 'width' | 'height'>, { conic }: Border): number {
  const {
    centre: [x, y],
    semiAxes: [a, b],
    angle,
  } = ellipseOf(conic)!;
  let within = 0;
  for (let k = 0; k < RAYS; k++) {
    const along = a * Math.cos((2 * Math.PI * k) / RAYS);
    const across = b * Math.sin((2 * Math.PI * k) / RAYS);
    const px = x + along * Math.cos(angle) - across * Math.sin(angle);
    const py = y + along * Math.sin(angle) + across * Math.cos(angle);
    if (px >= 0 && py >= 0 && px < width && py < height) within++;
  }
  return within / RAYS;
}

function scaled(borders: readonly Border[], factor: number): Border[] {
  return borders.map((border) => ({
    ...border,
    conic: enlarged(border.conic, factor),
    points: border.points.map(([x, y]) => [x * factor, y * factor] as const),
  }));
}

/** The conic in a picture `factor` times as large. */
function enlarged(conic: Conic, factor: number): Conic {
  const weights = [1 / factor, 1 / factor, 1];
  return conic.map((value, i) => value * weights[Math.floor(i / 3)]! * weights[i % 3]!);
}

/** Two seeds may lead to one face: keep the better. */
function withoutDoubles(spots: readonly UnsightedSpot[]): UnsightedSpot[] {
  const kept: UnsightedSpot[] = [];
  for (const spot of [...spots].sort((a, b) => b.support - a.support)) {
    const double = kept.some(
      (other) =>
        Math.hypot(other.centrePx[0] - spot.centrePx[0], other.centrePx[1] - spot.centrePx[1]) <
        Math.max(other.innermostPx, spot.innermostPx),
    );
    if (!double) kept.push(spot);
  }
  return kept;
}
