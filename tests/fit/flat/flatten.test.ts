import pixelmatch from 'pixelmatch';
import { expect, test } from 'vitest';
import { decodePhoto } from '../../../server/decode/decode-photo.ts';
import { photoBytes } from '../../../server/decode/read-photo-file.ts';
import { FACES, outerRadiusMm } from '../../../src/face/faces.ts';
import { fitFace } from '../../../src/fit/fit-face.ts';
import { flatten, flatToSpot, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import { loadOpenCv } from '../../../src/raster/load-open-cv.ts';

const FACE = FACES.wa80;
/** Part of the face that is not plain ink: lines, figures, holes and their surroundings. */
const NOT_PLAIN = 0.04;

/** The printed face drawn straight on, each zone in the colour that the photo shows it in. */
function idealFace(flat: FlatFace, stretch: number): Uint8Array {
  const { width, height, data } = flat.raster;
  const zoneAt = new Int8Array(width * height);
  const colours = FACE.zones.map(() => [[], [], []] as [number[], number[], number[]]);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const mm = flatToSpot(flat, [x + 0.5, y + 0.5]);
      const radius = Math.hypot(mm[0], mm[1]) * stretch;
      const zone = FACE.zones.findLastIndex((z) => radius <= z.outerRadiusMm);
      zoneAt[y * width + x] = zone;
      if (zone < 0) continue;
      for (const k of [0, 1, 2] as const) {
        colours[zone]![k].push(data[(y * width + x) * 4 + k]!);
      }
    }
  }
  const medians = colours.map((channels) =>
    channels.map((values) => values.sort((a, b) => a - b)[values.length >> 1] ?? 0),
  );
  const drawn = Uint8Array.from(data);
  zoneAt.forEach((zone, i) => {
    if (zone < 0) return;
    for (let k = 0; k < 3; k++) drawn[i * 4 + k] = medians[zone]![k]!;
  });
  return drawn;
}

test('the flat face is the printed one, drawn straight on', async () => {
  const { cv } = await loadOpenCv();
  const { raster } = await decodePhoto(await photoBytes('test-images/fresh-02.jpg'));
  const { fit } = fitFace(raster, { face: 'wa80' }, cv);
  const flat = flatten(raster, fit, {
    spot: 0,
    mmPerPx: 1.25,
    halfWidthMm: outerRadiusMm(FACE) + 5,
  });
  const { width, height, data } = flat.raster;
  const differing = (stretch: number) =>
    pixelmatch(Uint8Array.from(data), idealFace(flat, stretch), undefined, width, height, {
      threshold: 0.2,
      includeAA: true,
    }) /
    (width * height);
  expect(differing(1)).toBeLessThan(NOT_PLAIN);
  // The same comparison sees a scale that is one per cent off.
  expect(differing(1.01)).toBeGreaterThan(1.2 * differing(1));
});
