import { readFileSync } from 'node:fs';
import { FACES, type FaceId } from '../../src/face/faces.ts';
import { zoneAt } from '../../src/face/line-rule.ts';
import type { Reading } from '../../src/reading/reading.ts';

interface Truth {
  width: number;
  height: number;
  face: FaceId;
  shaft_mm: number;
  up_px: [number, number];
  spots: {
    centre_px: [number, number];
    rings: { radius_mm: number; px: ([number, number] | null)[] }[];
  }[];
  shots: {
    id: number;
    kind: 'fletched' | 'bare';
    spot: number;
    px: [number, number];
    spot_mm: [number, number];
  }[];
}

export interface TrueReading {
  readonly reading: Reading;
  readonly width: number;
  readonly height: number;
}

/** What a perfect reader would hand out for a test photo, taken from its truth file. */
export function readingOfTruth(name: string): TrueReading {
  const path = new URL(`../../test-images/${name}.json`, import.meta.url);
  const truth = JSON.parse(readFileSync(path, 'utf8')) as Truth;
  const face = FACES[truth.face];
  const marks = truth.shots.map((shot) => {
    const call = zoneAt(face, shot.spot_mm, truth.shaft_mm);
    return {
      id: `m${shot.id}`,
      spot: shot.spot,
      mm: shot.spot_mm,
      px: shot.px,
      sdMm: 0.4,
      state: 'hole' as const,
      age: 'fresh' as const,
      kind: shot.kind,
      kindFrom: 'person' as const,
      confidence: 1,
      zone: call.value,
      inner: call.inner,
      lineCall: null,
    };
  });
  return {
    width: truth.width,
    height: truth.height,
    reading: {
      face: truth.face,
      shaftMm: truth.shaft_mm,
      fit: {
        residualMm: 0.1,
        tiltDeg: 12,
        spots: truth.spots.map((spot) => ({
          centrePx: spot.centre_px,
          upPx: truth.up_px,
          rings: spot.rings.map((ring) => ({
            radiusMm: ring.radius_mm,
            px: ring.px.filter((p) => p !== null),
          })),
        })),
        notes: [],
      },
      marks,
      uncounted: [],
      faces: [],
      score: {
        total: marks.reduce((sum, mark) => sum + mark.zone, 0),
        inners: marks.filter((mark) => mark.inner).length,
        arrows: marks.length,
      },
      groups: null,
      tuning: null,
      guessedTags: null,
      warnings: [],
    },
  };
}
