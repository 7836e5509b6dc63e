import type { Reading } from '../../src/reading/reading.ts';

/** A reading of three fletched arrows and two bare shafts, all else empty. */
export function plainReading(): Reading {
  const place = (x: number, y: number, kind: 'fletched' | 'bare', i: number) => ({
    id: `m${i}`,
    spot: 0,
    mm: [x, y] as [number, number],
    px: [0, 0] as [number, number],
    sdMm: 0.3,
    state: 'hole' as const,
    age: 'fresh' as const,
    kind,
    confidence: 1,
    zone: 9,
    inner: false,
    lineCall: null,
  });
  return {
    face: 'wa80',
    shaftMm: 5.5,
    fit: { residualMm: 0.2, tiltDeg: 5, spots: [], notes: [] },
    marks: [
      place(-30, 10, 'fletched', 1),
      place(20, -40, 'fletched', 2),
      place(15, 45, 'fletched', 3),
      place(90, 20, 'bare', 4),
      place(140, -30, 'bare', 5),
      { ...place(500, 500, 'bare', 6), age: 'old' },
    ],
    uncounted: [],
    faces: [],
    score: { total: 45, inners: 0, arrows: 5 },
    groups: null,
    tuning: null,
    guessedTags: null,
    warnings: ['as before'],
  };
}
