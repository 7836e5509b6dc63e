import { describe, expect, it } from 'vitest';
import { seatingsOf } from '../../../src/fit/find/seat-spots.ts';

type Place = readonly [number, number];
const ROW: Place[] = [
  [0, 220],
  [0, 0],
  [0, -220],
];
const TRIANGLE: Place[] = [
  [0, 127],
  [-110, -63.5],
  [110, -63.5],
];

/** Places of the given spots from the first of them, on a sheet turned counter-clockwise. */
function found(printed: readonly Place[], spots: readonly number[], turn: number): Place[] {
  const [fx, fy] = printed[spots[0]!]!;
  return spots.map((spot) => {
    const [x, y] = [printed[spot]![0] - fx, printed[spot]![1] - fy];
    return [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)];
  });
}

describe('which spots of a sheet were found', () => {
  it.each([
    ['row', ROW, 0.8],
    ['triangle', TRIANGLE, 0.5],
  ])('is told by the places of all of a %s, turned', (_, printed, turn) => {
    const [only, ...others] = seatingsOf(found(printed, [2, 0, 1], turn), printed, 0);
    expect(only!.spots).toEqual([2, 0, 1]);
    expect(only!.turnRad).toBeCloseTo(turn, 9);
    expect(others).toEqual([]);
  });

  it('is open between two pairs of neighbours of a row, upright', () => {
    const seatings = seatingsOf(found(ROW, [0, 1], -0.3), ROW, 0);
    expect(seatings.map(({ spots }) => spots)).toEqual([
      [0, 1],
      [1, 2],
    ]);
    for (const { turnRad } of seatings) expect(Math.cos(turnRad + 0.3)).toBeCloseTo(1, 9);
  });

  it('is sure of the outer two of a row by their distance', () => {
    expect(seatingsOf(found(ROW, [2, 0], 0.1), ROW, 0).map(({ spots }) => spots)).toEqual([[2, 0]]);
  });

  it('is open for one spot alone', () => {
    expect(seatingsOf([[0, 0]], ROW, 0).map(({ spots }) => spots)).toEqual([[0], [1], [2]]);
  });

  it('takes the nearest way where none fits', () => {
    const [only, ...others] = seatingsOf(
      [
        [0, 0],
        [0, -900],
      ],
      ROW,
      0,
    );
    expect(only!.spots).toEqual([0, 2]);
    expect(others).toEqual([]);
  });
});
