import { Matrix, solve } from 'ml-matrix';
import { FACES, type FaceId } from '../../src/face/faces.ts';
import { bulgeRadiusMm, bulgeTermCount, bulgeTermsAt } from '../../src/fit/camera/bulge-height.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { aboveFace, halfDiagonalPx, sheetToPhoto } from '../../src/fit/camera/project.ts';

type Pair = readonly [number, number];

/** The parts of a photo's truth that the fit is judged by. */
export interface FitTruth {
  readonly photo: string;
  readonly width: number;
  readonly height: number;
  readonly face: FaceId;
  readonly category: string;
  readonly spots: readonly {
    readonly centre_mm: Pair;
    readonly centre_px: Pair;
    readonly rings: readonly {
      readonly radius_mm: number;
      readonly px: readonly (Pair | null)[];
    }[];
  }[];
  readonly paper_corners_px: readonly (Pair | null)[];
  readonly up_px: Pair;
  readonly camera: {
    readonly K: readonly (readonly number[])[];
    readonly R: readonly (readonly number[])[];
    readonly t: readonly number[];
    readonly dist: { readonly k1: number; readonly k2: number };
  };
}

/**
 * The fit that the truth's camera stands for, with the paper's bulge found from the true ring
 * points: what a perfect fit would hand to the next stage.
 */
export function truthFit(truth: FitTruth): FaceFit {
  const { K, R, t, dist } = truth.camera;
  const photoSize = [truth.width, truth.height] as const;
  const f = K[0]![0]!;
  const perUnit = (halfDiagonalPx(photoSize) / f) ** 2;
  const flat: FaceFit = {
    face: truth.face,
    photoSize,
    pose: { rotation: R.flat(), translationMm: [t[0]!, t[1]!, t[2]!] },
    focal: { px: f, source: 'exif' },
    lens: {
      k1: dist.k1 * perUnit,
      k2: dist.k2 * perUnit * perUnit,
      centrePx: [K[0]![2]!, K[1]![2]!],
    },
    bulge: [],
    spotCentresMm: FACES[truth.face].spotCentresMm.map(([x, y]) => [x, y] as const),
    residualMm: 0,
    misfitMm: 0,
    tiltDeg: (Math.acos(Math.min(1, Math.abs(R[2]![2]!))) * 180) / Math.PI,
    upFrom: 'person',
    upSdDeg: 0,
    covariance: [],
    notes: [],
  };
  return withBulge(flat, truth);
}

/** Weighted ridge solution for the heights (degrees 0 to 6) that move the rings where they are. */
function withBulge(flat: FaceFit, truth: FitTruth): FaceFit {
  const terms = bulgeTermCount(6);
  const radius = bulgeRadiusMm(flat.face);
  const size = terms + 3;
  const normal = Matrix.zeros(size, size);
  const right = Matrix.zeros(size, 1);
  const row = new Array<number>(terms);
  for (const spot of truth.spots) {
    for (const ring of spot.rings) {
      ring.px.forEach((px, i) => {
        if (!px) return;
        const angle = (i * 5 * Math.PI) / 180;
        const mm = [
          spot.centre_mm[0] + ring.radius_mm * Math.cos(angle),
          spot.centre_mm[1] + ring.radius_mm * Math.sin(angle),
        ] as const;
        bulgeTermsAt(mm[0] / radius, mm[1] / radius, row);
        const at = sheetToPhoto(flat, mm);
        const above = aboveFace(flat, mm, 1);
        const basis = [1, mm[0] / radius, mm[1] / radius, ...row];
        for (const axis of [0, 1] as const) {
          const slope = above[axis] - at[axis];
          const residual = px[axis] - at[axis];
          for (let a = 0; a < size; a++) {
            right.set(a, 0, right.get(a, 0) + basis[a]! * slope * residual);
            for (let b = 0; b < size; b++) {
              normal.set(a, b, normal.get(a, b) + basis[a]! * basis[b]! * slope * slope);
            }
          }
        }
      });
    }
  }
  for (let a = 0; a < size; a++) normal.set(a, a, normal.get(a, a) + 1e-4);
  const heights = solve(normal, right).to1DArray();
  const [lift, alongX, alongY] = heights as [number, number, number];
  // Heights of degree 0 and 1 are a move of the plane: turn and shift the pose for them.
  const r = flat.pose.rotation;
  const tilt = [alongX / radius, alongY / radius] as const;
  const rotation = [0, 1, 2].flatMap((i) => {
    const [a, b, c] = [r[3 * i]!, r[3 * i + 1]!, r[3 * i + 2]!];
    return [a + c * tilt[0], b + c * tilt[1], c - a * tilt[0] - b * tilt[1]];
  });
  const translationMm = flat.pose.translationMm.map((v, i) => v + r[3 * i + 2]! * lift);
  return {
    ...flat,
    pose: { rotation, translationMm: translationMm as [number, number, number] },
    bulge: heights.slice(3),
  };
}
