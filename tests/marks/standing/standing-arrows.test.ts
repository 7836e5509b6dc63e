import { expect, test } from 'vitest';
import type { SpotMm } from '../../../src/face/coordinates.ts';
import { cameraOverSheet } from '../../../src/fit/camera/project.ts';
import { flatToSpot, flatten, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import { viewSpot } from '../../../src/marks/flat-view/spot-view.ts';
import type { EntryMaps } from '../../../src/marks/network/entry-network.ts';
import { standingArrows, type SpotLook } from '../../../src/marks/standing/standing-arrows.ts';
import type { Raster } from '../../../src/raster/raster.ts';
import { cameraFit } from '../../fit/camera-fit.ts';

const SHAFT_MM = 6;
const CELL_PX = 2;
const HIGH_MM = 450;
const FIT = cameraFit({ face: 'wa80', tiltDeg: 30, azimuthDeg: 10, photoSize: [600, 500] });
const [FOOT_X, FOOT_Y, HEIGHT_MM] = cameraOverSheet(FIT);
const PHOTO: Raster = {
  width: 600,
  height: 500,
  data: new Uint8ClampedArray(4 * 600 * 500).fill(200),
};

/** Where the image of an arrow of this length that enters there and does not lean ends, mm on the face. */
function endOf([x, y]: SpotMm, heightMm = HIGH_MM): [number, number] {
  const factor = HEIGHT_MM / (HEIGHT_MM - heightMm);
  return [FOOT_X + (x - FOOT_X) * factor, FOOT_Y + (y - FOOT_Y) * factor];
}

/** Maps of arrows on a flat view, each cell asked for its place on the face. */
function drawn(flat: FlatFace, arrows: readonly SpotMm[], widthMm: number, heightMm = HIGH_MM) {
  const side = Math.ceil(flat.raster.width / CELL_PX);
  const shaft = new Float32Array(side * side);
  const entry = new Float32Array(side * side);
  for (let at = 0; at < side * side; at++) {
    const px = [((at % side) + 0.5) * CELL_PX, (Math.floor(at / side) + 0.5) * CELL_PX] as const;
    const [x, y] = flatToSpot(flat, px);
    for (const from of arrows) {
      const to = endOf(from, heightMm);
      const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
      const [ux, uy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
      const ahead = (x - from[0]) * ux + (y - from[1]) * uy;
      const beside = Math.abs((x - from[0]) * uy - (y - from[1]) * ux);
      const wide = widthMm * (1 + (0.5 * ahead) / long);
      if (ahead > 0 && ahead < long && beside < wide / 2) shaft[at] = 0.95;
      const near = Math.hypot(x - from[0], y - from[1]) / SHAFT_MM;
      entry[at] = Math.max(entry[at]!, 0.8 * Math.exp(-((near / 0.5) ** 2)));
    }
  }
  return { width: side, height: side, pxPerCell: CELL_PX, shaft, entry };
}

/** A first look that sees the shafts of all arrows, but the heat of some entries only. */
function firstLook(
  arrows: readonly SpotMm[],
  heated: readonly SpotMm[],
  heightMm?: number,
): SpotLook {
  const view = viewSpot(PHOTO, FIT, 0, SHAFT_MM);
  const { width, height, pxPerCell, shaft } = drawn(view.flat, arrows, SHAFT_MM, heightMm);
  const { entry } = drawn(view.flat, heated, SHAFT_MM);
  const none = new Float32Array(width * height);
  return {
    view,
    maps: {
      width,
      height,
      pxPerCell,
      shaft,
      entry,
      hole: none,
      fresh: none,
      vane: none,
      lookedClosely: new Uint8Array(width * height).fill(1),
    },
  };
}

async function found(
  arrows: readonly SpotMm[],
  heated: readonly SpotMm[],
  heightMm?: number,
  closeHeightMm = heightMm,
) {
  let looks = 0;
  const closer = (
    spot: number,
    part: { centreMm: SpotMm; halfWidthMm: number; mmPerPx: number },
  ) => {
    looks++;
    const flat = flatten(PHOTO, FIT, { spot, ...part });
    const { shaft: core, ...maps } = drawn(flat, arrows, SHAFT_MM / 2, closeHeightMm);
    const close: EntryMaps = { ...maps, core, vane: new Float32Array(core.length) };
    return Promise.resolve({ flat, maps: close });
  };
  const seen = await standingArrows([firstLook(arrows, heated, heightMm)], FIT, closer, {
    isShaftSaid: true,
  });
  return { arrows: seen.arrows.filter(({ probability }) => probability > 0.5), looks };
}

function expectNear(places: readonly SpotMm[], arrows: readonly { readonly mm: SpotMm }[]): void {
  expect(arrows).toHaveLength(places.length);
  for (const [x, y] of places) {
    const near = Math.min(...arrows.map(({ mm }) => Math.hypot(mm[0] - x, mm[1] - y)));
    expect(near).toBeLessThan(SHAFT_MM / 2);
  }
}

/** So far along the image of the arrow that enters first, mm. */
function behind(first: SpotMm, mm: number): [number, number] {
  const to = endOf(first);
  const long = Math.hypot(to[0] - first[0], to[1] - first[1]);
  return [first[0] + ((to[0] - first[0]) * mm) / long, first[1] + ((to[1] - first[1]) * mm) / long];
}

test('arrows apart are found where they enter, each once', async () => {
  const arrows: SpotMm[] = [
    [-60, 40],
    [30, -20],
    [90, 120],
  ];
  const { arrows: seen } = await found(arrows, arrows);
  expectNear(arrows, seen);
});

test('an arrow is as long as its image, however closely its entry was looked at', async () => {
  const entry: SpotMm = [30, -20];
  const highMm = 240;
  const end = endOf(entry, highMm);
  const { arrows } = await found([entry], [entry], highMm);
  const long = Math.hypot(end[0] - entry[0], end[1] - entry[1]);
  expect(Math.abs(arrows[0]!.lengthMm - long)).toBeLessThan(2 * SHAFT_MM);
});

test('an arrow in the line of another is found where the first look takes both for one', async () => {
  const first: SpotMm = [-150, 30];
  const [x, y] = behind(first, 22 * SHAFT_MM);
  const second: SpotMm = [x, y + 0.9 * SHAFT_MM];
  const { arrows: seen, looks } = await found([first, second], [first]);
  expectNear([first, second], seen);
  expect(looks).toBeGreaterThan(1);
});

test('a nail is none: it ends in full view close to the paper', async () => {
  const nail: SpotMm = [-60, 40];
  expect((await found([nail], [nail], 60)).arrows).toEqual([]);
});

test('an arrow that the first look loses on its way is followed by a closer one', async () => {
  const arrow: SpotMm = [-60, 40];
  expectNear([arrow], (await found([arrow], [arrow], 60, HIGH_MM)).arrows);
});

test('a face without arrows is looked at once', async () => {
  expect(await found([], [])).toEqual({ arrows: [], looks: 0 });
});
