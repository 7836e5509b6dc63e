import { expect, test } from 'vitest';
import { faceAt } from '../../web/look/face-at.ts';

const left = { centrePx: [100, 100] as [number, number], radiusPx: 60 };
const right = { centrePx: [180, 100] as [number, number], radiusPx: 40 };

test('a place on one face alone is that one', () => {
  expect(faceAt([left, right], [60, 100])).toBe(left);
  expect(faceAt([left, right], [210, 100])).toBe(right);
});

test('where faces overlap it is the one whose middle is nearer for its size, in any order', () => {
  expect(faceAt([left, right], [145, 100])).toBe(left);
  expect(faceAt([left, right], [155, 100])).toBe(right);
  expect(faceAt([right, left], [155, 100])).toBe(right);
});

test('beside all faces there is none', () => {
  expect(faceAt([left, right], [100, 180])).toBe(null);
  expect(faceAt([], [100, 100])).toBe(null);
});
