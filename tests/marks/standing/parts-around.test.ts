import { expect, test } from 'vitest';
import { depthIn, partsAround } from '../../../src/marks/standing/parts-around.ts';

const MARGIN_MM = 50;

test('a place alone is seen with its margin all round', () => {
  expect(partsAround([[30, -20]], MARGIN_MM, 400)).toEqual([
    { centreMm: [30, -20], halfWidthMm: MARGIN_MM },
  ]);
  expect(partsAround([], MARGIN_MM, 400)).toEqual([]);
});

test('places closer than the margin are seen together, and all of them by some part', () => {
  const places = [
    [0, 0],
    [30, 10],
    [60, 0],
    [300, 0],
  ] as const;
  const parts = partsAround(places, MARGIN_MM, 400);
  expect(parts).toHaveLength(2);
  for (const place of places) {
    const depths = parts.map((part) => depthIn(part, place));
    expect(Math.max(...depths)).toBeGreaterThanOrEqual(MARGIN_MM);
  }
});

test('no part that joins places is wider than allowed', () => {
  const row = Array.from({ length: 12 }, (_, i) => [i * 30, 0] as const);
  const parts = partsAround(row, MARGIN_MM, 200);
  for (const { halfWidthMm } of parts) expect(2 * halfWidthMm).toBeLessThanOrEqual(200);
  for (const place of row) {
    expect(Math.max(...parts.map((part) => depthIn(part, place)))).toBeGreaterThanOrEqual(
      MARGIN_MM,
    );
  }
});
