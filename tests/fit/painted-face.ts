import { FACES, outerRadiusMm, type Face, type Ink } from '../../src/face/faces.ts';
import { photoToSheet, sheetToSpot } from '../../src/fit/camera/project.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { LINEAR_LIGHT } from '../../src/fit/edges/linear-light.ts';
import type { Raster } from '../../src/raster/raster.ts';

/** Width of printed lines, mm. */
export const PAINTED_LINE_MM = 2;

type Bytes = readonly [number, number, number];

/** Bytes of the inks as a camera might give them. */
const INKS: Readonly<Record<Ink, Bytes>> = {
  yellow: [245, 215, 60],
  red: [225, 60, 55],
  blue: [50, 150, 215],
  navy: [30, 50, 110],
  black: [38, 36, 38],
  white: [240, 240, 236],
};
const BOSS: Bytes = [120, 105, 80];

/** Samples along a side of a pixel on a border, averaged in linear light. */
const SAMPLES = 3;

/** A face seen by a known camera: flat light, no noise, no lens blur, on a brown boss. */
export function paintedFace(fit: FaceFit): Raster {
  const face = FACES[fit.face];
  const [width, height] = fit.photoSize;
  const at = (x: number, y: number): Bytes => {
    const { mm } = sheetToSpot(fit, photoToSheet(fit, [x, y]));
    return colourAt(face, Math.hypot(mm[0], mm[1]));
  };
  const middles = Array.from({ length: width * height }, (_, i) =>
    at((i % width) + 0.5, Math.floor(i / width) + 0.5),
  );
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  middles.forEach((bytes, i) => {
    const around = [i - 1, i + 1, i - width, i + width];
    const inside = around.every((j) => (middles[j] ?? bytes) === bytes);
    const [x, y] = [i % width, Math.floor(i / width)];
    data.set(inside ? bytes : mixed((u, v) => at(x + u, y + v)), 4 * i);
  });
  return { width, height, data };
}

/** Mean light of a pixel of which not all is of one colour. */
function mixed(at: (u: number, v: number) => Bytes): number[] {
  const light = [0, 0, 0];
  for (let k = 0; k < SAMPLES * SAMPLES; k++) {
    const u = ((k % SAMPLES) + 0.5) / SAMPLES;
    const v = (Math.floor(k / SAMPLES) + 0.5) / SAMPLES;
    at(u, v).forEach((byte, c) => (light[c]! += LINEAR_LIGHT[byte]! / (SAMPLES * SAMPLES)));
  }
  return light.map(byteOf);
}

function colourAt(face: Face, radius: number): Bytes {
  if (radius > 1.15 * outerRadiusMm(face)) return BOSS;
  const zone = face.zones.findLast(({ outerRadiusMm: outer }) => radius <= outer);
  if (!zone) return INKS.white;
  const lines = [
    { at: zone.outerRadiusMm, line: zone.line },
    ...(face.innerRadiusMm === null ? [] : [{ at: face.innerRadiusMm, line: face.innerLine }]),
  ];
  const on = lines.find(({ at }) => radius <= at && radius > at - PAINTED_LINE_MM);
  if (on?.line === 'dark') return INKS.black;
  return on?.line === 'light' ? INKS.white : INKS[zone.ink];
}

/** The byte nearest a linear light (IEC 61966-2-1). */
function byteOf(light: number): number {
  return 255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);
}
