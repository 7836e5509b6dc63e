import type { CameraState } from './camera-state.ts';
import type { FaceFit } from './face-fit.ts';

/** The mapping of a camera state alone, as a fit of which nothing else is known yet. */
export function plainFit(state: CameraState): FaceFit {
  return {
    face: state.face,
    photoSize: state.photoSize,
    pose: { rotation: state.rotation, translationMm: state.translationMm },
    focal: { px: state.focalPx, source: 'assumed' },
    lens: { k1: state.k1, k2: state.k2, centrePx: state.centrePx },
    bulge: state.bulge,
    spotCentresMm: state.spotCentresMm,
    residualMm: 0,
    misfitMm: 0,
    tiltDeg: (Math.acos(Math.min(1, Math.abs(state.rotation[8]!))) * 180) / Math.PI,
    upFrom: 'photo',
    upSdDeg: 0,
    covariance: [],
    notes: [],
  };
}
