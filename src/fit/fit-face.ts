import type { PhotoPx } from '../face/coordinates.ts';
import { FACES, outerRadiusMm, ringRadiiMm, type Face, type FaceId } from '../face/faces.ts';
import type { OpenCv } from '../raster/load-open-cv.ts';
import type { Raster } from '../raster/raster.ts';
import { ReadingError } from '../reading/reading-error.ts';
import type { FaceChoice } from '../reading/request.ts';
import { bulgeTermCount } from './bulge-height.ts';
import {
  PARAMETER,
  stiffPrior,
  turned,
  type CameraPrior,
  type CameraState,
} from './camera-state.ts';
import { edgeLook } from './edge-look.ts';
import type { FaceFit } from './face-fit.ts';
import { findCandidates, type SpotCandidate } from './find-candidates.ts';
import { groupSpots, type FaceCandidate } from './group-spots.ts';
import { paperEdges } from './paper-edges.ts';
import { halfDiagonalPx, photoToSheet, pxPerMm, sheetToPhoto } from './project.ts';
import { ringEdges, type EdgeLook, type RingEdges } from './ring-edges.ts';
import { ringSdPx } from './ring-sd-px.ts';
import { solveCamera, type CameraSolution } from './solve-camera.ts';
import { startFace } from './start-face.ts';

export type { FaceCandidate } from './group-spots.ts';

export interface FitOptions {
  readonly face: FaceChoice;
  /** Focal length in pixels of the photo, from its EXIF data. */
  readonly focalPx?: number;
  /** Taps of a person: the face's centre and two places on the outer edge of one colour's ring. */
  readonly byHand?: HandPlacement;
  /** Where in the photo the wanted face is, when there are several. */
  readonly pick?: PhotoPx;
}

export interface HandPlacement {
  readonly centrePx: PhotoPx;
  readonly edgesPx: readonly [PhotoPx, PhotoPx];
  /** Radius of the ring that was tapped, mm. @default the face's outermost ring */
  readonly radiusMm?: number;
}

export interface FaceFitResult {
  readonly fit: FaceFit;
  /** Every face that was found, the chosen one first. */
  readonly candidates: readonly FaceCandidate[];
}

/** Finds the face in a photo and measures where its rings lie. Throws a ReadingError. */
export function fitFace(photo: Raster, options: FitOptions, cv: OpenCv): FaceFitResult {
  const photoSize = [photo.width, photo.height] as const;
  const prior = priorOf(photoSize, options.focalPx);
  const spots = findCandidates(photo, cv);
  const candidates = groupSpots(spots, photoSize, options);
  const chosen = candidates[0];
  if (!chosen) {
    throw new ReadingError(
      'no-face',
      'No target face was found: photograph the whole face from the front, or place it by hand.',
    );
  }
  const notes: string[] = [];
  const faceId = faceOf(chosen, options.face, notes);
  const start = startFace(chosen, spots, faceId, photoSize, prior);
  if (!start) {
    throw new ReadingError(
      'too-few-rings',
      'Too little of the rings can be seen: photograph the face closer and from the front.',
    );
  }
  const fit = refine(photo, start.solution, prior, start.sdPx, notes, options);
  return { fit, candidates };
}

/** The face to fit: the one asked for, or the usual one of the family that was seen. */
function faceOf(candidate: FaceCandidate, choice: FaceChoice, notes: string[]): FaceId {
  if (choice !== 'auto') return choice;
  const usual: Record<Face['family'], FaceId> = {
    'ten-ring': 'wa80',
    'six-ring': 'wa80-6',
    triple: 'wa40-triple-vertical',
    field: 'field-40',
  };
  const id = usual[candidate.family];
  if (candidate.family !== 'triple') {
    notes.push(
      `A photo does not show how large a face is: it was taken as the ${FACES[id].name} face. ` +
        'Choose the right size if it is another.',
    );
  }
  return id;
}

/** What is believed of a phone's camera and of paper on a boss. */
export function priorOf(
  photoSize: readonly [number, number],
  focalPx: number | undefined,
): CameraPrior {
  const diagonal = 2 * halfDiagonalPx(photoSize);
  return {
    // Phones' main cameras: 24 to 28 mm on a frame with a diagonal of 43.27 mm (from memory).
    focalPx: focalPx ?? diagonal * 0.61,
    logFocalSd: focalPx === undefined ? 0.25 : 0.03,
    centreSdPx: 0.005 * diagonal,
    k1Sd: 0.04,
    k2Sd: 0.02,
    bulgeSd: 0.006,
    turnZSdRad: 1e-3,
    spotShiftSdMm: 1,
    ringOffsetSdMm: 0.25,
  };
}

function refine(
  photo: Raster,
  start: CameraSolution,
  prior: CameraPrior,
  startSdPx: number,
  notes: string[],
  options: FitOptions,
): FaceFit {
  const face = FACES[start.state.face];
  let look: EdgeLook = { lineMm: 0.0025 * outerRadiusMm(face), blurPx: 1 };
  const stiff = stiffPrior(prior);
  let state = start.state;
  let edges: RingEdges = { points: [], profiles: [], inFrame: [] };
  let solution: CameraSolution | null = start;
  const measure = (least: number, blocks: number, belief: CameraPrior): CameraSolution => {
    const known = solution;
    const reachPx = (spot: number, ring: number): number =>
      least + 4 * (known ? ringSdPx(state, known.covariance, spot, ring) : 0);
    edges = ringEdges(photo, state, { look, reachPx, blocks });
    if (edges.points.length < 40) {
      throw new ReadingError(
        'too-few-rings',
        'Too few ring edges can be seen: take a sharper photo from nearer the face.',
      );
    }
    const found = solveCamera(state, edges.points, { prior: belief });
    state = found.state;
    return found;
  };

  // Twice: rings beyond the reach of the first look are within that of the second.
  solution = measure(3 * startSdPx + 4, 48, stiff);
  solution = measure(startSdPx + 4, 60, stiff);
  look = edgeLook(face, edges.profiles, solution.weight, look);

  let upFrom: FaceFit['upFrom'] = 'photo';
  let upSd = (3 * Math.PI) / 180;
  const several = state.spotCentresMm.length > 1;
  state = uprightInPhoto(state, several);
  const paper = paperEdges(photo, state);
  if (several) {
    upFrom = 'spots';
    upSd = 0;
  } else if (paper) {
    state = { ...state, rotation: turned(state.rotation, 0, 0, paper.turn) };
    upFrom = 'paper-edges';
    upSd = paper.sd;
  } else {
    notes.push("The paper's edges cannot be seen: up on the face was taken from the photo.");
  }

  const belief = { ...prior, turnZSdRad: several ? 1 : Math.max(upSd, 1e-4) };
  state = { ...state, bulge: new Array<number>(bulgeTermCount(4)).fill(0) };
  solution = measure(Math.max(3, 4 * look.blurPx), 90, belief);
  look = edgeLook(face, edges.profiles, solution.weight, look);
  state = {
    ...state,
    bulge: [...state.bulge, ...new Array<number>(bulgeTermCount(5) - bulgeTermCount(4)).fill(0)],
  };
  solution = measure(Math.max(2.5, 3 * look.blurPx), 120, belief);
  look = edgeLook(face, edges.profiles, solution.weight, look);
  solution = measure(Math.max(2.5, 3 * look.blurPx), 120, belief);

  const fit = fitOf(state, solution, edges, prior, { upFrom, upSd, notes });
  addNotes(fit, edges, notes);
  if (options.focalPx !== undefined) return { ...fit, focal: { ...fit.focal, source: 'exif' } };
  return fit;
}

/** Turns a state so that the face's up at its middle points up in the photo; spots keep theirs. */
function uprightInPhoto(state: CameraState, several: boolean): CameraState {
  if (several) return state;
  let turnedState = state;
  for (let pass = 0; pass < 3; pass++) {
    const fit = plainFit(turnedState);
    const middle = sheetToPhoto(fit, [0, 0]);
    const above = photoToSheet(fit, [middle[0], middle[1] - 5]);
    const angle = Math.atan2(above[1], above[0]) - Math.PI / 2;
    turnedState = { ...turnedState, rotation: turned(turnedState.rotation, 0, 0, angle) };
  }
  return turnedState;
}

function plainFit(state: CameraState): FaceFit {
  return {
    face: state.face,
    photoSize: state.photoSize,
    pose: { rotation: state.rotation, translationMm: state.translationMm },
    focal: { px: state.focalPx, source: 'assumed' },
    lens: { k1: state.k1, k2: state.k2, centrePx: state.centrePx },
    bulge: state.bulge,
    spotCentresMm: state.spotCentresMm,
    residualMm: 0,
    tiltDeg: (Math.acos(Math.min(1, Math.abs(state.rotation[8]!))) * 180) / Math.PI,
    upFrom: 'photo',
    upSdDeg: 0,
    covariance: [],
    notes: [],
  };
}

function fitOf(
  state: CameraState,
  solution: CameraSolution,
  edges: RingEdges,
  prior: CameraPrior,
  up: { upFrom: FaceFit['upFrom']; upSd: number; notes: readonly string[] },
): FaceFit {
  const fit = plainFit(state);
  let sum = 0;
  let weights = 0;
  edges.points.forEach((_, i) => {
    const weight = solution.weight[i]!;
    const mm = solution.residualPx[i]! / edges.profiles[i]!.pxPerMm;
    sum += weight * mm * mm;
    weights += weight;
  });
  const focalSd = Math.sqrt(solution.covariance[PARAMETER.logFocal]![PARAMETER.logFocal]!);
  return {
    ...fit,
    focal: { px: state.focalPx, source: focalSd < prior.logFocalSd / 2 ? 'estimated' : 'assumed' },
    residualMm: weights > 0 ? Math.sqrt(sum / weights) : 0,
    upFrom: up.upFrom,
    upSdDeg: (up.upSd * 180) / Math.PI,
    covariance: solution.covariance,
    notes: up.notes,
  };
}

function addNotes(fit: FaceFit, edges: RingEdges, notes: string[]): void {
  const face = FACES[fit.face];
  const cut = edges.inFrame.some((rings) => rings.some((share) => share < 0.97));
  if (cut) notes.push('Part of the rings lies outside the photo.');
  if (fit.tiltDeg > 40) {
    notes.push('The photo was taken very much from the side: positions are less certain.');
  }
  if (pxPerMm(fit, [0, 0]) * ringRadiiMm(face).at(-1)! < 12) {
    notes.push('The face is small in the photo: go closer for better positions.');
  }
}

export type { SpotCandidate };
