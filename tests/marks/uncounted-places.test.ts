import { expect, test } from 'vitest';
import { uncountedPlaces } from '../../src/marks/uncounted-places.ts';

const SHAFT_MM = 6;
const at = (x: number, y: number, probability: number, spot = 0) => ({
  spot,
  mm: [x, y] as const,
  sdMm: 0.4,
  probability,
});

test('hands out what was not counted, likeliest first, one place each', () => {
  const counted = [at(0, 0, 0.9)];
  const evidence = [
    at(50, 0, 0.1),
    at(1, 1, 0.8), // the counted one again
    at(-80, 20, 0.3),
    at(51, 1, 0.05), // the first one again
    at(0, 0, 0.2, 1), // the same place of another spot
  ];
  expect(uncountedPlaces(evidence, counted, SHAFT_MM).map(({ mm, spot }) => [...mm, spot])).toEqual(
    [
      [-80, 20, 0],
      [0, 0, 1],
      [50, 0, 0],
    ],
  );
});

test('hands out no more than a person can mean', () => {
  const chaff = Array.from({ length: 400 }, (_, i) => at(10 * i, 0, 0.02 + i / 1000));
  const places = uncountedPlaces(chaff, [], SHAFT_MM);
  expect(places.length).toBeLessThan(100);
  expect(places[0]).toEqual(chaff.at(-1));
});
