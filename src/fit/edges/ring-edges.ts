import { FACES, ringRadiiMm, type Face, type Ink } from '../../face/faces.ts';
import type { Raster } from '../../raster/raster.ts';
import type { PhotoCopy } from '../../raster/shrink.ts';
import { projectorOf, type CameraState } from '../camera/camera-state.ts';
import { edgeFinder, type EdgeShape } from './edge-shapes.ts';
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
/** Rays of a block lie this far apart along the ring. */
const RAY_GAP_PX = 1;
const RAYS_PER_BLOCK = 5;
/** Least part of a profile's variance that a ring must explain. */
const LEAST_EXPLAINED = { step: 0.5, line: 0.2 } as const;

/** Blur of a copy that is sharp, one standard deviation in its pixels. */
const LEAST_BLUR_PX = 0.5;

/**
 * Looks for every printed ring in thin strips around its predicted image, in linear light.
 * Neighbouring rays are averaged along the ring before the place is found. Whatever copy is looked
 * at, lengths that go in and come out are in pixels of the photo.
 */
export function ringEdges(
  { raster, factor }: PhotoCopy,
  state: CameraState,
  options: RingEdgesOptions,
): RingEdges {
  const face = FACES[state.face];
  const radii = ringRadiiMm(face);
  const sorted = [...radii, 0].sort((a, b) => a - b);
  const projector = projectorOf(state);
  const blur =
    factor > 1 ? Math.max(LEAST_BLUR_PX, options.look.blurPx / factor) : options.look.blurPx;
  const points: RingPoint[] = [];
  const profiles: MeasuredProfile[] = [];
  const inFrame: number[][] = [];
  const tried: number[][] = [];
  for (let spot = 0; spot < state.spotCentresMm.length; spot++) {
    const [cx, cy] = state.spotCentresMm[spot]!;
    inFrame.push(radii.map(() => 0));
    tried.push(radii.map(() => 0));
    for (let ring = options.firstRing ?? 0; ring < radii.length; ring++) {
      const radius = radii[ring]! + state.ringOffsetsMm[ring]!;
      const print = ringPrint(face, ring);
      const kind = print.inside === print.outside ? 'line' : 'step';
      if (kind === 'line' && print.line === null) continue;
      const inward = radii[ring]! - sorted[sorted.indexOf(radii[ring]!) - 1]!;
      const next = sorted[sorted.indexOf(radii[ring]!) + 1];
      const gapMm = Math.min(inward, next === undefined ? Infinity : next - radii[ring]!);

      projector.at(cx + radius, cy);
      // From here on in pixels of the copy.
      const scale =
        Math.sqrt(
          Math.abs(
            projector.alongX[0] * projector.alongY[1] - projector.alongX[1] * projector.alongY[0],
          ),
        ) / factor;
      const gapPx = gapMm * scale;
      const lineWidth = options.look.lineMm * scale;
      // Far enough out to see both inks, not as far as the next ring.
      const margin = Math.min(0.45 * gapPx, 2.5 * blur + lineWidth + 2);
      const reach = Math.min(options.reachPx(spot, ring) / factor, 0.48 * gapPx, MOST_REACH_PX);
      // A camera that shows a line so wide, or the paper from behind, is a wrong one.
      if (!(lineWidth >= 0 && lineWidth < MOST_REACH_PX)) continue;
      const spacing = reach > COARSE_REACH_PX ? SPACING_PX.coarse : SPACING_PX.fine;
      const samples = 2 * Math.ceil((reach + margin) / spacing) + 1;
      const shape: EdgeShape = { kind, line: print.line, lineWidth, blur };
      const grid = { samples, spacing, reach };
      const finder = edgeFinder(shape, grid);
      const arcPx = 2 * Math.PI * radius * scale;
      const blocks = Math.max(
        24,
        Math.min(options.blocks ?? 120, Math.floor(arcPx / (RAYS_PER_BLOCK * RAY_GAP_PX + 1))),
      );
      const light = new Float64Array(samples * 3);
      for (let block = 0; block < blocks; block++) {
        const angle = (2 * Math.PI * block) / blocks;
        light.fill(0);
        let seen = true;
        let middle: { x: number; y: number; nx: number; ny: number; pxPerMm: number } | null = null;
        for (let ray = 0; ray < RAYS_PER_BLOCK && seen; ray++) {
          const along = ((ray - (RAYS_PER_BLOCK - 1) / 2) * RAY_GAP_PX) / (radius * scale);
          const cos = Math.cos(angle + along);
          const sin = Math.sin(angle + along);
          projector.at(cx + radius * cos, cy + radius * sin);
          const tx = -sin * projector.alongX[0] + cos * projector.alongY[0];
          const ty = -sin * projector.alongX[1] + cos * projector.alongY[1];
          const length = Math.hypot(tx, ty);
          const nx = -ty / length;
          const ny = tx / length;
          const x = projector.px[0] / factor;
          const y = projector.px[1] / factor;
          if (ray === (RAYS_PER_BLOCK - 1) / 2) {
            const pxPerMm =
              nx * (cos * projector.alongX[0] + sin * projector.alongY[0]) +
              ny * (cos * projector.alongX[1] + sin * projector.alongY[1]);
            middle = { x, y, nx, ny, pxPerMm };
          }
          seen = addRay(raster, [x, y, nx, ny], spacing, samples, light);
        }
        if (!seen || !middle) continue;
        inFrame[spot]![ring]! += 1 / blocks;
        tried[spot]![ring]!++;
        for (let i = 0; i < light.length; i++) light[i]! /= RAYS_PER_BLOCK;
        const place = finder.find(light);
        if (!place || place.explained < LEAST_EXPLAINED[kind]) continue;
        points.push({
          spot,
          ring,
          angle,
          px: [
            factor * (middle.x + middle.nx * place.at),
            factor * (middle.y + middle.ny * place.at),
          ],
          sdPx: factor * Math.hypot(place.sd, 0.05),
        });
        profiles.push({
          spot,
          ring,
          pxPerMm: middle.pxPerMm,
          light: light.slice(),
          spacingPx: factor * spacing,
          atPx: factor * place.at,
        });
      }
    }
  }
  return { points, profiles, inFrame, tried };
}

/**
 * Adds the samples of one ray, bilinear in linear light; false when it leaves the raster.
 *
 * @param ray Its middle and its unit vector, pixels of the raster.
 */
function addRay(
  raster: Raster,
  [x, y, nx, ny]: readonly [number, number, number, number],
  spacing: number,
  samples: number,
  light: Float64Array,
): boolean {
  const halfLength = ((samples - 1) / 2) * spacing;
  const { width, height, data } = raster;
  // Sample positions count from the first pixel's centre.
  const startX = x - 0.5 - nx * halfLength;
  const startY = y - 0.5 - ny * halfLength;
  const endX = x - 0.5 + nx * halfLength;
  const endY = y - 0.5 + ny * halfLength;
  if (Math.min(startX, endX, startY, endY) < 0) return false;
  if (Math.max(startX, endX) >= width - 1 || Math.max(startY, endY) >= height - 1) return false;
  const stride = width * 4;
  for (let j = 0; j < samples; j++) {
    const sx = startX + nx * spacing * j;
    const sy = startY + ny * spacing * j;
    const left = Math.floor(sx);
    const top = Math.floor(sy);
    const fx = sx - left;
    const fy = sy - top;
    const w00 = (1 - fx) * (1 - fy);
    const w10 = fx * (1 - fy);
    const w01 = (1 - fx) * fy;
    const w11 = fx * fy;
    const i = top * stride + left * 4;
    for (let c = 0; c < 3; c++) {
      light[3 * j + c]! +=
        w00 * LINEAR_LIGHT[data[i + c]!]! +
        w10 * LINEAR_LIGHT[data[i + 4 + c]!]! +
        w01 * LINEAR_LIGHT[data[i + stride + c]!]! +
        w11 * LINEAR_LIGHT[data[i + stride + 4 + c]!]!;
    }
  }
  return true;
}
