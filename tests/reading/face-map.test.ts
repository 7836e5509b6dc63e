import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { faceMap } from '../../src/reading/face-map.ts';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';

interface Shot {
  spot: number;
  px: [number, number];
  spot_mm: [number, number];
}

const shotsOf = (name: string): Shot[] =>
  (
    JSON.parse(
      readFileSync(new URL(`../../test-images/${name}.json`, import.meta.url), 'utf8'),
    ) as {
      shots: Shot[];
    }
  ).shots;

describe('faceMap', () => {
  // The truth of the rendered photos: shots and rings were projected through the scene's own camera,
  // lens and paper bulge.
  it.each(['fresh-02', 'fresh-04', 'fresh-05', 'fresh-07', 'used-04', 'hard-02'])(
    'finds the millimetres of every shot from the rings alone (%s)',
    (name) => {
      const { reading } = readingOfTruth(name);
      for (const shot of shotsOf(name)) {
        const map = faceMap(reading.fit.spots[shot.spot]!);
        const mm = map.toMm(shot.px);
        expect(Math.hypot(mm[0] - shot.spot_mm[0], mm[1] - shot.spot_mm[1])).toBeLessThan(0.25);
        const back = map.toPx(mm);
        expect(Math.hypot(back[0] - shot.px[0], back[1] - shot.px[1])).toBeLessThan(0.01);
      }
    },
  );
});
