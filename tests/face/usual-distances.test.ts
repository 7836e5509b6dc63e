import { expect, test } from 'vitest';
import { FACE_IDS } from '../../src/face/faces.ts';
import { usualDistancesM } from '../../src/face/usual-distances.ts';

/*
 * World Archery rule book, Books 2 and 3 (from memory): rounds at 90 to 60 m on the 122 cm face, at 50 and
 * 30 m on the 80 cm face, outdoors compound at 50 m on its six zones; indoors 25 m on 60 cm and 18 m on
 * 40 cm, single or three spots; field rounds end at 60 m.
 */
test.each([
  ['wa122', 70],
  ['wa80', 50],
  ['wa80', 30],
  ['wa80-6', 50],
  ['wa60', 25],
  ['wa40', 18],
  ['wa40-triple-vertical', 18],
  ['wa40-triple-triangular', 18],
  ['wa60-triple-vertical', 25],
  ['field-80', 60],
] as const)('%s is offered with the %d m that it is shot at', (face, distance) => {
  expect(usualDistancesM(face)).toContain(distance);
});

test('each face is offered a few distances that an archer can say, and none twice', () => {
  for (const face of FACE_IDS) {
    const distances = usualDistancesM(face);
    expect(distances.length).toBeGreaterThan(0);
    expect(new Set(distances).size).toBe(distances.length);
    for (const distance of distances) {
      expect(distance).toBeGreaterThanOrEqual(2);
      expect(distance).toBeLessThanOrEqual(90);
    }
  }
});

// The international yard is 0.9144 m exactly (agreement of 1959).
test('distances that rules give in yards are the metres of these', () => {
  const offered = usualDistancesM('ifaa65').map((metres) => metres / 0.9144);
  for (const yards of [40, 60]) {
    expect(Math.min(...offered.map((own) => Math.abs(own - yards)))).toBeLessThan(0.06);
  }
});
