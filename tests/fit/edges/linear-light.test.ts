import { expect, test } from 'vitest';
import { LINEAR_LIGHT } from '../../../src/fit/edges/linear-light.ts';

// IEC 61966-2-1: the encoding of a linear value, whose inverse the table is.
test('encoding the light of a byte gives the byte back', () => {
  for (let byte = 0; byte < 256; byte++) {
    const light = LINEAR_LIGHT[byte]!;
    const encoded = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
    // The standard's two halves meet within a few parts in ten thousand of a byte.
    expect(255 * encoded).toBeCloseTo(byte, 2);
  }
  expect([LINEAR_LIGHT[0], LINEAR_LIGHT[255]]).toEqual([0, 1]);
});
