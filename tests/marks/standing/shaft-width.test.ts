import { expect, test } from 'vitest';
import { likelyWidths } from '../../../src/marks/standing/shaft-width.ts';

const seen = (...mm: number[]) => mm.map((width) => ({ mm: width, weight: 1 }));
const widths = (told: number, ...mm: number[]) =>
  likelyWidths(seen(...mm), told, true).map((width) => width.mm);

test('a width that the arrows agree on comes before the one told', () => {
  expect(widths(5.5, 9.1, 9.4, 9.3, 8.9)[0]).toBeCloseTo(9.1, 0);
  expect(widths(9.3, 4, 4.1, 3.9, 4.2, 8)[0]).toBeCloseTo(4, 0);
});

test('the width told stands where the photo shows about that, or nothing', () => {
  expect(widths(5.5, 5.1, 6.2, 5.6)[0]).toBe(5.5);
  expect(widths(5.5)[0]).toBe(5.5);
});

test('arrows side by side look like wider ones, and the width told is looked at too', () => {
  expect(widths(5.5, 5.4, 11, 11.5, 5.8)).toContain(5.5);
});

test('less likely widths are told to be so', () => {
  const [first, ...others] = likelyWidths(seen(5.5, 5.6, 9.8, 10), 5.5, true);
  expect(first!.logOdds).toBe(0);
  for (const { logOdds } of others) expect(logOdds).toBeLessThan(0);
});

test('where nobody said a width, fewer arrows show another one', () => {
  const width = (isTold: boolean) => likelyWidths(seen(8.6), 5.5, isTold)[0]!.mm;
  expect(width(true)).toBe(5.5);
  expect(width(false)).toBeGreaterThan(7);
  expect(likelyWidths([], 5.5, false)[0]!.mm).toBe(5.5);
});
