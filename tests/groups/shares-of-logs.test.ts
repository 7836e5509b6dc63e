import { expect, test } from 'vitest';
import { sharesOfLogs } from '../../src/groups/shares-of-logs.ts';

test('shares are those of the likelihoods, and sum to 1', () => {
  const { shares, logTotal } = sharesOfLogs([Math.log(1), Math.log(2), Math.log(5)]);
  [0.125, 0.25, 0.625].forEach((share, i) => expect(shares[i]).toBeCloseTo(share, 14));
  expect(logTotal).toBeCloseTo(Math.log(8), 14);
});

test('logs far below or above what a number holds weigh as their differences do', () => {
  for (const shift of [-5000, 5000]) {
    const { shares, logTotal } = sharesOfLogs([shift, shift + Math.log(3)]);
    expect(shares[1]).toBeCloseTo(0.75, 12);
    expect(logTotal).toBeCloseTo(shift + Math.log(4), 9);
  }
});
