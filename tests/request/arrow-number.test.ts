import { describe, expect, test } from 'vitest';
import { arrowNumberSchema, byArrowNumber } from '../../src/request/arrow-number.ts';

describe('what is written on a shaft', () => {
  test.each([
    [' 7 ', '7'],
    ['007', '7'],
    ['0', '0'],
    ['000', '0'],
    ['3b', '3B'],
    ['c12', 'C12'],
    ['ä', 'Ä'],
    // Digits and letters of full width (Unicode, compatibility forms).
    ['１２', '12'],
    ['Ａ', 'A'],
  ])('%j is arrow %s', (written, number) => {
    expect(arrowNumberSchema.parse(written)).toBe(number);
  });

  test.each(['', ' ', '1234', '12AB', 'AB', '3-4', '1.5', 'A1234', '#7'])(
    '%j is none, which a sentence says',
    (written) => {
      const { error } = arrowNumberSchema.safeParse(written);
      expect(error?.issues[0]?.message).toBe('The number of an arrow is like 7, 12 or 3B.');
    },
  );

  test('is put in the order of counting, letters last', () => {
    expect(['B', '11', '3B', 'A', '2', '3'].sort(byArrowNumber)).toEqual([
      '2',
      '3',
      '3B',
      '11',
      'A',
      'B',
    ]);
  });
});
