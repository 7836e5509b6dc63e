import { describe, expect, test } from 'vitest';
import { gravityUp } from '../../../src/fit/camera/gravity.ts';

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/**
 * Rotation of a face that leans back, seen by a level phone from one side.
 *
 * World: x to the archer's right, y up, z from the boss to the archer.
 */
function seenFrom(side: number, looksDown: number, leansBack: number): number[] {
  const [s, d, l] = [side, looksDown, leansBack].map(radians) as [number, number, number];
  const sheet = [
    [1, 0, 0],
    [0, Math.cos(l), -Math.sin(l)],
    [0, Math.sin(l), Math.cos(l)],
  ];
  const right = [Math.cos(s), 0, -Math.sin(s)];
  const forward = [-Math.sin(s) * Math.cos(d), -Math.sin(d), -Math.cos(s) * Math.cos(d)];
  const down = [
    forward[1]! * right[2]! - forward[2]! * right[1]!,
    forward[2]! * right[0]! - forward[0]! * right[2]!,
    forward[0]! * right[1]! - forward[1]! * right[0]!,
  ];
  return [right, down, forward].flatMap((axis) =>
    sheet.map((own) => axis[0]! * own[0]! + axis[1]! * own[1]! + axis[2]! * own[2]!),
  );
}

describe('up on the face of a level phone', () => {
  test.each([
    [0, 0, 0],
    [0, 20, 10],
    [25, 5, 0],
    [-40, 10, 10],
    [50, 0, 12],
    [-60, 10, 5],
  ])('from %f degrees aside, looking %f down at a boss leaning %f back', (side, down, lean) => {
    const { turn, sd } = gravityUp({ rotation: seenFrom(side, down, lean) });
    expect(Math.abs(turn)).toBeLessThan(radians(6));
    expect(Math.abs(turn)).toBeLessThan(2 * sd);
  });

  test('is less sure the farther from the side, never surer than faces are hung', () => {
    const sds = [0, 30, 60].map((side) => gravityUp({ rotation: seenFrom(side, 5, 5) }).sd);
    expect(sds[0]).toBeGreaterThan(radians(3));
    expect(sds[1]).toBeGreaterThan(sds[0]!);
    expect(sds[2]).toBeGreaterThan(sds[1]!);
  });
});
