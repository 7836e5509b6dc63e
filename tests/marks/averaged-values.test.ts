import { expect, test } from 'vitest';
import { averagedValues } from '../../src/marks/averaged-values.ts';

test('averages are of all arrows but the bare shafts, a miss and an untold one among them', () => {
  expect(
    averagedValues([
      { kind: 'fletched', zone: 9 },
      { kind: 'bare', zone: 4 },
      { kind: 'unknown', zone: 7 },
      { kind: 'fletched', zone: 0 },
    ]),
  ).toEqual([9, 7, 0]);
});
