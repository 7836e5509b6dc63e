import { expect, test } from 'vitest';
import type { AxisVerdict } from '../../../src/tuning/advice/axis-verdict.ts';
import { leastSure } from '../../../src/tuning/advice/least-sure.ts';

const low = (p: number, certainty: AxisVerdict['certainty'], worthAChange = true): AxisVerdict => ({
  sign: -1,
  certainty,
  p,
  worthAChange,
});

test('what holds at every distance holds as surely as at the least sure one', () => {
  expect(leastSure([low(0.99, 'sure'), low(0.85, 'likely'), low(0.97, 'sure')])).toEqual(
    low(0.85, 'likely'),
  );
});

test('a change is worth making where it is at every distance', () => {
  expect(leastSure([low(0.9, 'likely'), low(0.95, 'sure', false)]).worthAChange).toBe(false);
});

test('one distance alone says what it says', () => {
  expect(leastSure([low(0.6, 'undecided')])).toEqual(low(0.6, 'undecided'));
});

test('where distances find different things nothing is decided, nor said with confidence', () => {
  const there: AxisVerdict = { sign: 0, certainty: 'sure', p: 0.96, worthAChange: false };
  // At most as probable as what is just called likely.
  expect(leastSure([there, low(0.98, 'sure')])).toEqual({
    sign: -1,
    certainty: 'undecided',
    p: 0.8,
    worthAChange: false,
  });
  expect(leastSure([low(0.7, 'undecided'), { ...low(0.9, 'likely'), sign: 1 }]).p).toBe(0.7);
});
