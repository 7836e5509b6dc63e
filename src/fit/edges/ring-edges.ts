import { FACES, ringRadiiMm, type Face, type Ink } from '../../face/faces.ts';
import { wordRaster, type WordRaster } from '../../raster/pixel-words.ts';
import type { PhotoCopy } from '../../raster/shrink.ts';
import { projectorOf, type CameraState, type Projector } from '../camera/camera-state.ts';
import { edgeFinder, type EdgeFinder, type EdgeShape } from './edge-shapes.ts';
import { LINEAR_LIGHT } from './linear-light.ts';
import type { RingPoint } from '../camera/solve-camera.ts';

/** What is known of the print and the picture's sharpness. */
export interface EdgeLook {
  /** Width of the dividing lines, mm. */
  readonly lineMm: number;
  /** Blur of the picture, one standard deviation in pixels. */
  readonly blurPx: number;
}

export interface RingEdgesOptions {
  readonly look: EdgeLook;
  /** How far from its predicted place a ring may be, px; kept below half a zone. */
  readonly reachPx: (spot: number, ring: number) => number;
  /** The outermost ring to look for, by the index of `ringRadiiMm`. @default 0 */
  readonly firstRing?: number;
  /** Most blocks of rays per ring. @default 120 */
  readonly blocks?: number;
}

export interface RingEdges {
  readonly points: RingPoint[];
  /** For each point, its mean profile about the place found, for the look of the print. */
  readonly profiles: MeasuredProfile[];
  /** Per spot and ring: share of its circle within the frame, 0 to 1. */
  readonly inFrame: number[][];
  /** Per spot and ring: number of places within the frame that were looked at. */
  readonly tried: number[][];
}

export interface MeasuredProfile {
  readonly spot: number;
  readonly ring: number;
  /** Photo pixels per mm across the ring. */
  readonly pxPerMm: number;
  /** Linear light, samples x 3, centred on the predicted place. */
  readonly light: Float64Array;
  readonly spacingPx: number;
  /** Where in the profile the ring was found, px from its middle. */
  readonly atPx: number;
}

/** Inks on both sides of a ring and the line on it, by the index of `ringRadiiMm`. */
export function ringPrint(
  face: Face,
  ring: number,
): { inside: Ink; outside: Ink; line: 'dark' | 'light' | null } {
  const zone = face.zones[ring];
  if (!zone) {
    const ink = face.zones.at(-1)!.ink;
    return { inside: ink, outside: ink, line: face.innerLine };
  }
  return { inside: zone.ink, outside: face.zones[ring - 1]?.ink ?? 'white', line: zone.line };
}

/** Distance of samples along a ray; rings that may be far off are looked for more coarsely. */
const SPACING_PX = { fine: 0.5, coarse: 1 } as const;
/** A ring farther off than this is not found by looking for it: its neighbours are as near. */
const MOST_REACH_PX = 64;
/** Reach from which the coarse spacing does, px: a place to a pixel is wanted there. */
const COARSE_REACH_PX = 6;
/** How near to half the way to the next ring a ring may be looked for: beyond it is that one's. */
const MOST_REACH = 0.48;
/** Ink on both sides of a ring is looked at so far, so that less than half of it is a neighbour's. */
const MOST_MARGIN = 0.45;
/** From where blur no longer mixes both inks, in its standard deviations, and pixels of ink to see. */
const CLEAR_OF_BLUR = 2.5;
const SEEN_INK_PX = 2;
/** Rays of a block lie this far apart along the ring. */
const RAY_GAP_PX = 1;
const RAYS_PER_BLOCK = 5;
const MIDDLE_RAY = (RAYS_PER_BLOCK - 1) / 2;
/** Blocks of rays on a ring: at least every 15 degrees, at most as many as are worth their time. */
const BLOCKS = { least: 24, most: 120 } as const;
/** Least part of a profile's variance that a ring must explain. */
const LEAST_EXPLAINED = { step: 0.5, line: 0.2 } as const;

/** Blur of a copy that is sharp, one standard deviation in its pixels. */
const LEAST_BLUR_PX = 0.5;
/** A place is known no better than this, px: pixels of photos are not quite where they seem. */
const LEAST_SD_PX = 0.05;

/** How one ring of one spot is looked for; lengths in pixels are the copy's. */
interface RingSearch {
  readonly spot: number;
  readonly ring: number;
  readonly centreMm: readonly [number, number];
  readonly radiusMm: number;
  /** Mean over directions, where the ring lies on the right. */
  readonly pxPerMm: number;
  readonly kind: EdgeShape['kind'];
  readonly samples: number;
  readonly spacingPx: number;
  /** Groups of neighbouring rays around the ring, evenly spread. */
  readonly blocks: number;
  readonly finder: EdgeFinder;
}

/** Where a block of rays crosses its ring, pixels of the copy. */
interface Crossing {
  readonly x: number;
  readonly y: number;
  /** Unit vector outward across the ring. */
  readonly nx: number;
  readonly ny: number;
  /** Of the photo, across the ring. */
  readonly pxPerMm: number;
}

/**
 * Looks for every printed ring in thin strips around its predicted image, in linear light.
 * Neighbouring rays are averaged along the ring before the place is found. Whatever copy is looked
 * at, lengths that go in and come out are in pixels of the photo.
 */
export function ringEdges(
  copy: PhotoCopy,
  state: CameraState,
  options: RingEdgesOptions,
): RingEdges {
  const { factor } = copy;
  const picture = wordRaster(copy.raster);
  const rings = ringRadiiMm(FACES[state.face]).length;
  const projector = projectorOf(state);
  const points: RingPoint[] = [];
  const profiles: MeasuredProfile[] = [];
  const none = () => state.spotCentresMm.map(() => new Array<number>(rings).fill(0));
  const inFrame = none();
  const tried = none();
  for (let spot = 0; spot < state.spotCentresMm.length; spot++) {
    for (let ring = options.firstRing ?? 0; ring < rings; ring++) {
      const search = ringSearch({ spot, ring }, state, projector, factor, options);
      if (!search) continue;
      // Room for all blocks at once: a thousand small ones are slow to get and to let go.
      const length = search.samples * 3;
      const lights = new Float64Array(search.blocks * length);
      for (let block = 0; block < search.blocks; block++) {
        const light = lights.subarray(block * length, (block + 1) * length);
        const angle = (2 * Math.PI * block) / search.blocks;
        const crossing = blockProfile(picture, factor, search, projector, angle, light);
        if (!crossing) continue;
        inFrame[spot]![ring]! += 1 / search.blocks;
        tried[spot]![ring]!++;
        const place = search.finder.find(light);
        if (!place || place.explained < LEAST_EXPLAINED[search.kind]) continue;
        points.push({
          spot,
          ring,
          angle,
          px: [
            factor * (crossing.x + crossing.nx * place.at),
            factor * (crossing.y + crossing.ny * place.at),
          ],
          sdPx: factor * Math.hypot(place.sd, LEAST_SD_PX),
        });
        profiles.push({
          spot,
          ring,
          pxPerMm: crossing.pxPerMm,
          light,
          spacingPx: factor * search.spacingPx,
          atPx: factor * place.at,
        });
      }
    }
  }
  return { points, profiles, inFrame, tried };
}

/** How to look for a ring; null where none is printed, or the camera cannot be the right one. */
function ringSearch(
  { spot, ring }: { spot: number; ring: number },
  state: CameraState,
  projector: Projector,
  factor: number,
  options: RingEdgesOptions,
): RingSearch | null {
  const face = FACES[state.face];
  const print = ringPrint(face, ring);
  const kind = print.inside === print.outside ? 'line' : 'step';
  if (kind === 'line' && print.line === null) return null;
  const radii = ringRadiiMm(face);
  const radiusMm = radii[ring]! + state.ringOffsetsMm[ring]!;
  const centreMm = state.spotCentresMm[spot]!;

  projector.at(centreMm[0] + radiusMm, centreMm[1]);
  const { alongX, alongY } = projector;
  // From here on in pixels of the copy.
  const pxPerMm = Math.sqrt(Math.abs(alongX[0] * alongY[1] - alongX[1] * alongY[0])) / factor;
  const blur =
    factor > 1 ? Math.max(LEAST_BLUR_PX, options.look.blurPx / factor) : options.look.blurPx;
  const lineWidth = options.look.lineMm * pxPerMm;
  // A camera that shows a line so wide, or the paper from behind, is a wrong one.
  if (!(lineWidth >= 0 && lineWidth < MOST_REACH_PX)) return null;
  const gapPx = gapToNextMm(radii, ring) * pxPerMm;
  // Far enough out to see both inks, not as far as the next ring.
  const margin = Math.min(MOST_MARGIN * gapPx, CLEAR_OF_BLUR * blur + lineWidth + SEEN_INK_PX);
  const reach = Math.min(options.reachPx(spot, ring) / factor, MOST_REACH * gapPx, MOST_REACH_PX);
  const spacing = reach > COARSE_REACH_PX ? SPACING_PX.coarse : SPACING_PX.fine;
  const samples = 2 * Math.ceil((reach + margin) / spacing) + 1;
  const aroundPx = 2 * Math.PI * radiusMm * pxPerMm;
  const room = Math.floor(aroundPx / (RAYS_PER_BLOCK * RAY_GAP_PX + 1));
  return {
    spot,
    ring,
    centreMm,
    radiusMm,
    pxPerMm,
    kind,
    samples,
    spacingPx: spacing,
    blocks: Math.max(BLOCKS.least, Math.min(options.blocks ?? BLOCKS.most, room)),
    finder: edgeFinder({ kind, line: print.line, lineWidth, blur }, { samples, spacing, reach }),
  };
}

/** From a ring to the nearest other one, or to the centre, mm. */
function gapToNextMm(radii: readonly number[], ring: number): number {
  const own = radii[ring]!;
  const others = [0, ...radii.filter((radius) => radius !== own)];
  return Math.min(...others.map((other) => Math.abs(own - other)));
}

/**
 * Fills `light` with the mean profile of a block of rays across a ring; null where one of them
 * leaves the picture.
 *
 * @param angle Of the block's middle, counter-clockwise from the face's right, rad.
 */
function blockProfile(
  picture: WordRaster,
  factor: number,
  search: RingSearch,
  projector: Projector,
  angle: number,
  light: Float64Array,
): Crossing | null {
  const { centreMm, radiusMm, pxPerMm, spacingPx, samples } = search;
  const { px, alongX, alongY } = projector;
  light.fill(0);
  let middle: Crossing | null = null;
  for (let ray = 0; ray < RAYS_PER_BLOCK; ray++) {
    const along = ((ray - MIDDLE_RAY) * RAY_GAP_PX) / (radiusMm * pxPerMm);
    const cos = Math.cos(angle + along);
    const sin = Math.sin(angle + along);
    projector.at(centreMm[0] + radiusMm * cos, centreMm[1] + radiusMm * sin);
    const tx = -sin * alongX[0] + cos * alongY[0];
    const ty = -sin * alongX[1] + cos * alongY[1];
    const length = Math.hypot(tx, ty);
    const nx = -ty / length;
    const ny = tx / length;
    const x = px[0] / factor;
    const y = px[1] / factor;
    if (ray === MIDDLE_RAY) {
      const across =
        nx * (cos * alongX[0] + sin * alongY[0]) + ny * (cos * alongX[1] + sin * alongY[1]);
      middle = { x, y, nx, ny, pxPerMm: across };
    }
    if (!addRay(picture, [x, y, nx, ny], spacingPx, samples, light)) return null;
  }
  for (let i = 0; i < light.length; i++) light[i]! /= RAYS_PER_BLOCK;
  return middle;
}

/**
 * Adds the samples of one ray, bilinear in linear light; false when it leaves the raster.
 *
 * @param ray Its middle and its unit vector, pixels of the raster.
 */
function addRay(
  { words, width, height }: WordRaster,
  [x, y, nx, ny]: readonly [number, number, number, number],
  spacing: number,
  samples: number,
  light: Float64Array,
): boolean {
  const halfLength = ((samples - 1) / 2) * spacing;
  // Sample positions count from the first pixel's centre.
  const startX = x - 0.5 - nx * halfLength;
  const startY = y - 0.5 - ny * halfLength;
  const endX = x - 0.5 + nx * halfLength;
  const endY = y - 0.5 + ny * halfLength;
  if (Math.min(startX, endX, startY, endY) < 0) return false;
  if (Math.max(startX, endX) >= width - 1 || Math.max(startY, endY) >= height - 1) return false;
  const linear = LINEAR_LIGHT;
  for (let j = 0, to = 0; j < samples; j++, to += 3) {
    const sx = startX + nx * spacing * j;
    const sy = startY + ny * spacing * j;
    // Places within the raster are not negative: what is cut off leaves the pixel before.
    const left = sx | 0;
    const top = sy | 0;
    const fx = sx - left;
    const fy = sy - top;
    const w00 = (1 - fx) * (1 - fy);
    const w10 = fx * (1 - fy);
    const w01 = (1 - fx) * fy;
    const w11 = fx * fy;
    const i = top * width + left;
    const p00 = words[i]! | 0;
    const p10 = words[i + 1]! | 0;
    const p01 = words[i + width]! | 0;
    const p11 = words[i + width + 1]! | 0;
    light[to]! +=
      w00 * linear[p00 & 0xff]! +
      w10 * linear[p10 & 0xff]! +
      w01 * linear[p01 & 0xff]! +
      w11 * linear[p11 & 0xff]!;
    light[to + 1]! +=
      w00 * linear[(p00 >>> 8) & 0xff]! +
      w10 * linear[(p10 >>> 8) & 0xff]! +
      w01 * linear[(p01 >>> 8) & 0xff]! +
      w11 * linear[(p11 >>> 8) & 0xff]!;
    light[to + 2]! +=
      w00 * linear[(p00 >>> 16) & 0xff]! +
      w10 * linear[(p10 >>> 16) & 0xff]! +
      w01 * linear[(p01 >>> 16) & 0xff]! +
      w11 * linear[(p11 >>> 16) & 0xff]!;
  }
  return true;
}
