import { describe, expect, test } from 'vitest';
import {
  madeUpDistance,
  madeUpWords,
  withoutMadeUp,
} from '../../../src/tuning/record/made-up-distance.ts';

describe('18 m that an earlier page wrote where nobody had said a distance', () => {
  test.each([
    // The rules shoot the 40 cm face from 18 m, the 122 cm face from 60 m on (World Archery, book 2).
    ['juna-2031-05-04-18m-wa122', 18, 'wa122', 'yes'],
    ['juna-2031-05-04-18m-wa40', 18, 'wa40', 'perhaps'],
    // Of another name, or another distance, somebody said it.
    ['juna-2031-05-04', 18, 'wa122', 'no'],
    ['juna-2031-05-04-18m-wa122', 70, 'wa122', 'no'],
    ['juna-2031-05-04-18m-wa122', null, 'wa122', 'no'],
    ['juna-2031-05-04-18m-wa80', 18, 'wa122', 'no'],
  ] as const)('%s, %s m, %s: %s', (id, distanceM, face, answer) => {
    expect(madeUpDistance({ id, distanceM, face })).toBe(answer);
  });

  test('are taken back, with the hall that came of them, not what was said', () => {
    const session = { id: 's', distanceM: 18, wind: 'none' };
    expect(withoutMadeUp({ ...session, setting: 'indoor' })).toEqual({
      id: 's',
      distanceM: null,
      setting: null,
      wind: 'none',
    });
    expect(withoutMadeUp({ ...session, setting: 'outdoor' }).setting).toBe('outdoor');
  });

  test('are told to who runs the log, in numbers that agree', () => {
    expect(madeUpWords(0, 0)).toBeNull();
    expect(madeUpWords(1, 0)).toBe(
      '1 end of which nobody had said the distance was kept as of 18 m: it is unknown now, and the log learns no angles from it.',
    );
    expect(madeUpWords(2, 3)).toMatch(
      /^2 ends .* were kept .* from them\. .* 3 ends more at 18 m /,
    );
    expect(madeUpWords(0, 1)).toMatch(/^Whether anybody said the distance of 1 end at 18 m /);
  });
});
