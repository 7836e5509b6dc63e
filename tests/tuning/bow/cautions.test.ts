import { expect, test } from 'vitest';
import { CAUTIONS } from '../../../src/tuning/bow/cautions.ts';
import { PARTS } from '../../../src/tuning/bow/parts.ts';

/** The usual cautions are common practice, no published source. */
test('range rules and coach come before what endwise says, weak arrows and limbs have their own', () => {
  expect(CAUTIONS.bareShafts).toMatch(/rules of your club and range/);
  expect(CAUTIONS.coach).toMatch(/qualified coach .* outweighs/);
  expect(CAUTIONS.weakArrow).toMatch(/never shoot .* too weak/i);
  expect(CAUTIONS.weakArrow).toMatch(/qualified coach/);
});

test('each caution of a part is a whole sentence, and what bends or breaks has one where it is stepped', () => {
  for (const text of Object.values(CAUTIONS)) expect(text).toMatch(/^[A-Z].*\.$/);
  for (const part of [
    'spine',
    'arrow-length',
    'point-mass',
    'draw-weight',
    'limb-bolts',
  ] as const) {
    expect(PARTS[part].cautions.step).toContain('weakArrow');
    expect(PARTS[part].cautions.restore).toContain('carbon');
  }
});
