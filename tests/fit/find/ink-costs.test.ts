import { expect, test } from 'vitest';
import type { Ink } from '../../../src/face/faces.ts';
import { colourIndex, coloursOf, inkCosts, photoWhite } from '../../../src/fit/find/ink-costs.ts';

type Bytes = readonly [number, number, number];

/**
 * The rule book's inks (yellow 107U, red 032U, light blue 306U, process black; 282C for the navy of
 * indoor faces) in sRGB, from memory of the colour guide.
 */
const PRINTED: Record<Ink, Bytes> = {
  yellow: [255, 225, 70],
  red: [240, 80, 95],
  blue: [0, 175, 220],
  navy: [4, 30, 66],
  black: [35, 31, 32],
  white: [255, 255, 255],
};

function photoOf(colours: readonly Bytes[]) {
  const data = new Uint8ClampedArray(colours.flatMap((bytes) => [...bytes, 255]));
  return coloursOf({ width: colours.length, height: 1, data });
}

function lit(bytes: Bytes, light: Bytes): Bytes {
  return bytes.map((byte, c) => (byte * light[c]!) / 255) as unknown as Bytes;
}

test.each([
  ['daylight', [255, 255, 255]],
  ['shade', [110, 118, 130]],
  ['a lamp', [250, 215, 160]],
] as const)(
  'prints have the colour of their ink, and of no other bright one, in %s',
  (_, light) => {
    const photo = photoOf(Object.values(PRINTED).map((bytes) => lit(bytes, light)));
    const { of } = inkCosts(photo, 1, 1 / 6);
    for (const ink of ['yellow', 'red', 'blue', 'black', 'white'] as const) {
      const at = colourIndex(...(lit(PRINTED[ink], light).map(Math.round) as unknown as Bytes));
      expect([ink, of[ink][at]! < 0.5]).toEqual([ink, true]);
      for (const other of ['yellow', 'red', 'blue', 'white'] as const) {
        if (other !== ink) expect([ink, other, of[other][at]! > 0.5]).toEqual([ink, other, true]);
      }
    }
  },
);

test('faded print is found where fresh ink is not asked for', () => {
  const faded: Bytes = [222, 206, 168];
  const photo = photoOf([PRINTED.white, faded]);
  const at = colourIndex(...faded);
  expect(inkCosts(photo, 1, 0.5).of.yellow[at]).toBeGreaterThan(0.9);
  expect(inkCosts(photo, 0.28, 0.5).of.yellow[at]).toBeLessThan(0.5);
});

test('a coloured wall is not taken for white light', () => {
  const wall = photoOf(Array.from({ length: 10 }, () => [200, 40, 30] as const));
  const [red, green, blue] = photoWhite(wall, 0.5);
  expect(red).toBe(200);
  // The darkest channel of a lamp's light is at least about half its brightest (incandescent lamps).
  expect(Math.min(green, blue) / red).toBeGreaterThan(0.5);
});
