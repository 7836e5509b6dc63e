import { expect, test } from 'vitest';
import fc from 'fast-check';
import { domainAround, placeOn, roundTicks } from '../../src/drawing/plot-panel.ts';

test('ticks are round, evenly apart, within the domain, and never crowd it', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -500, max: 500, noNaN: true }),
      fc.double({ min: 0.01, max: 2000, noNaN: true }),
      fc.integer({ min: 2, max: 9 }),
      (low, wide, about) => {
        const ticks = roundTicks([low, low + wide], about);
        expect(ticks.length).toBeLessThanOrEqual(about + 1);
        const steps = ticks.slice(1).map((tick, i) => tick - ticks[i]!);
        for (const step of steps) {
          const mantissa = step / 10 ** Math.floor(Math.log10(step * 1.0000001));
          expect([1, 2, 5].some((round) => Math.abs(mantissa - round) < 1e-3)).toBe(true);
        }
        for (const tick of ticks) {
          expect(tick).toBeGreaterThanOrEqual(low - 1e-6 * wide);
          expect(tick).toBeLessThanOrEqual(low + wide + 1e-6 * wide);
        }
      },
    ),
    { seed: 5 },
  );
});

test('a scale takes equal steps, or equal factors, to equal lengths', () => {
  const linear = { kind: 'linear', domain: [10, 30], range: [100, 0] } as const;
  expect([10, 20, 30].map((value) => placeOn(linear, value))).toEqual([100, 50, 0]);
  const log = { kind: 'log', domain: [1, 100], range: [0, 10] } as const;
  expect(placeOn(log, 10)).toBeCloseTo(5, 12);
});

test('a domain holds all values with air, and is never of no width', () => {
  const [low, high] = domainAround([4, 8, 6], 1);
  expect(low).toBeLessThan(4);
  expect(high).toBeGreaterThan(8);
  const [from, to] = domainAround([5, 5], 2);
  expect(to - from).toBeCloseTo(2, 12);
  expect((from + to) / 2).toBeCloseTo(5, 12);
});
