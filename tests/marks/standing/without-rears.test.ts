import { describe, expect, test } from 'vitest';
import type { SpotMm } from '../../../src/face/coordinates.ts';
import { weighedAsPieces, withoutRears } from '../../../src/marks/standing/without-rears.ts';

const SHAFT_MM = 5.5;
const FIT = {
  spotCentresMm: [
    [0, 0],
    [0, 0],
  ],
} as const;
const GEOMETRY = { footMm: [300, 0], heightMm: 1500 } as const;

/** Something that is seen from a place leftwards for so many millimetres. */
function seen(mm: SpotMm, lengthMm: number, about: object = {}) {
  return { spot: 0, mm, probability: 0.8, along: [-1, 0] as const, lengthMm, runsOut: false, ...about }; // prettier-ignore
}
const arrow = seen([0, 0], 240, { probability: 0.95 });
const left = (...others: ReturnType<typeof seen>[]) =>
  withoutRears([...others, arrow], GEOMETRY, SHAFT_MM).filter((one) => one !== arrow);

describe('what starts along the image of an arrow', () => {
  test('is its rear end where it starts at wrap or vanes and ends with it', () => {
    expect(left(seen([-150, 1], 90))).toEqual([]);
    expect(left(seen([-190, 12], 45), seen([-185, -11], 60))).toEqual([]);
  });

  test('is an arrow where it goes on beyond the other by as much as it starts later', () => {
    const behind = seen([-110, 2], 240);
    expect(left(behind)).toEqual([behind]);
  });

  test('is an arrow beside it, across it, before it, near its entry, or in another spot', () => {
    const others = [
      seen([-150, 40], 90),
      seen([-150, 1], 90, { along: [0, 1] }),
      seen([30, 0], 200),
      seen([-25, 8], 210),
      seen([-150, 1], 90, { spot: 1 }),
    ];
    for (const other of others) expect(left(other)).toEqual([other]);
  });

  test('may be an arrow where the picture cuts either', () => {
    const cut = seen([-150, 1], 90, { runsOut: true });
    expect(left(cut)).toEqual([cut]);
  });
});

describe('what lies along the image of an arrow', () => {
  const weighed = (...others: ReturnType<typeof seen>[]) =>
    weighedAsPieces(others, FIT, GEOMETRY, SHAFT_MM).map(({ probability }) => probability);

  test('is a piece of it rather than an arrow right behind it', () => {
    const [whole, piece] = weighed(arrow, seen([-150, 1], 90, { runsOut: true })) as [
      number,
      number,
    ];
    expect(whole).toBeGreaterThan(arrow.probability);
    expect(piece).toBeLessThan(0.3);
  });

  test('shows where the arrow enters, though little is seen of that', () => {
    const entry = seen([0, 0], 240, { probability: 0.2 });
    const [first, piece] = weighed(entry, seen([-80, -1], 160, { probability: 0.55 })) as [
      number,
      number,
    ];
    expect(first).toBeGreaterThan(0.5);
    expect(piece).toBeLessThan(0.3);
  });

  test('counts for itself beside it, across it, near its entry or in another spot', () => {
    const others = [
      seen([-150, 40], 90),
      seen([-150, 1], 90, { along: [0, 1] }),
      seen([-25, 2], 210),
      seen([-150, 1], 90, { spot: 1 }),
    ];
    for (const other of others) {
      const [whole, one] = weighed(arrow, other) as [number, number];
      expect(whole).toBeCloseTo(arrow.probability, 4);
      expect(one).toBeCloseTo(other.probability, 4);
    }
  });
});
