import { expect, test } from 'vitest';
import { raySegmenter } from '../../../src/fit/find/segment-ray.ts';

/** Colours 0, 1 and 2 are the inks of the zones; 3 is none of them. */
const MODEL = { inks: ['yellow', 'red', 'blue', 'outside'], after: [0, 0, 1, 1] } as const;
const COSTS = [0, 1, 2].map((own) =>
  Float32Array.from({ length: 4 }, (_, c) => (c === own ? 0 : 1)),
);

function begins(ray: string): number[] {
  const segmenter = raySegmenter(MODEL, [...COSTS, null], 4, 40);
  const colours = Uint16Array.from(ray, Number);
  return segmenter.segment(colours, colours.length);
}

test('zones begin where their colour does', () => {
  expect(begins('00000111112222233333')).toEqual([0, 5, 10, 15]);
});

test('what covers a zone in the middle does not end it', () => {
  expect(begins('00300113112222233333')).toEqual([0, 5, 10, 15]);
});

test('zones come in their order: a colour farther out is none that lies within', () => {
  expect(begins('00000111110011122222')).toEqual([0, 5, 15, -1]);
});

test('the paper may follow early only where a family ends', () => {
  // After red anything may come, after yellow nothing but red.
  expect(begins('00000111113333333333')).toEqual([0, 5, -1, 10]);
  expect(begins('00000333333333333333')[1]).not.toBe(-1);
});
