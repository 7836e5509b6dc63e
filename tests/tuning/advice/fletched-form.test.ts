import { expect, test } from 'vitest';
import type { Group } from '../../../src/groups/groups.ts';
import { c4 } from '../../../src/groups/group-statistics.ts';
import { fletchedForm } from '../../../src/tuning/advice/fletched-form.ts';

/** A group of six whose root mean square per axis is this, mm. */
const group = (rmsMm: number, n = 6): Group =>
  ({ n, sigmaMm: rmsMm / c4(2 * (n - 1) + 1) }) as Group;
/** A record so long, and days so alike, that the spread is as good as known. */
const CERTAIN = { sigmaMrad: 1, arrows: 1e7, dayLogSd: 1e-4 };

// With the spread known, the sum of squares over it is chi-squared. Table of the upper 5 % points for
// 10 degrees of freedom: 18.307 (NIST/SEMATECH e-Handbook, 1.3.6.7.4); lower 2.5 %: 3.247.
test.each([
  [Math.sqrt(18.2 / 10), 'usual'],
  [Math.sqrt(18.4 / 10), 'wider'],
  [Math.sqrt(3.3 / 10), 'usual'],
  [Math.sqrt(3.2 / 10), 'tighter'],
] as const)('a spread %d times as wide as ever is %s', (ratio, verdict) => {
  const form = fletchedForm(group(30 * ratio), { record: CERTAIN, distanceM: 30 });
  expect(form.verdict).toBe(verdict);
  expect(form.ratio).toBeCloseTo(ratio, 9);
});

test('a short record calls less unusual than a long one', () => {
  const short = { sigmaMrad: 1, arrows: 8 };
  const p = (record: typeof short) => fletchedForm(group(42), { record, distanceM: 30 }).p!;
  expect(p(short)).toBeGreaterThan(p(CERTAIN));
});

test('without a record, a distance or a spread of today nothing is claimed', () => {
  for (const form of [
    fletchedForm(group(30), {}),
    fletchedForm(group(30), { record: CERTAIN }),
    fletchedForm(null, { record: CERTAIN, distanceM: 30 }),
  ]) {
    expect(form).toMatchObject({ verdict: 'unknown', ratio: null, p: null });
  }
});
