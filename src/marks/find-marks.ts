import { FACES, outerRadiusMm } from '../face/faces.ts';
import type { FaceFit } from '../fit/face-fit.ts';
import { flatten, type FlatFace } from '../fit/flatten.ts';
import { pxPerMm, sheetToPhoto, spotToSheet } from '../fit/project.ts';
import type { OpenCv } from '../raster/load-open-cv.ts';
import type { Raster } from '../raster/raster.ts';
import { handMadeHoles } from './hand-made/hand-made-holes.ts';
import type { HoleCandidate } from './hole-candidate.ts';
import type { Mark } from './mark.ts';
import type { MarkNetwork } from './network/mark-network.ts';
import { chooseHoles } from './choose-holes.ts';

export interface MarkRequest {
  /** Diameter of the shafts, mm. */
  readonly shaftMm: number;
  /** Arrows of each kind shot in this end; together the number of marks to expect. */
  readonly fletched?: number | undefined;
  readonly bare?: number | undefined;
}

export interface MarkEngine {
  readonly cv: OpenCv;
  readonly network: MarkNetwork | null;
}

export interface Photographed {
  readonly photo: Raster;
  readonly fit: FaceFit;
}

export interface FoundMarks {
  /** Best first within each age, fresh ones before the others. */
  readonly marks: Mark[];
  /** What a person should know, each a sentence. */
  readonly warnings: string[];
}

/** Flat pixels across a shaft, where the photo is as fine as that. */
const SHAFT_PX = 9;
/** Widest flat face worked on, px; bounds time and memory. */
const MOST_PX = 1300;

/**
 * Finds the marks of this end, and older ones, on a face.
 *
 * @param before The same face before this end was shot, with its own fit.
 */
export async function findMarks(
  photo: Raster,
  fit: FaceFit,
  request: MarkRequest,
  _engine: MarkEngine,
  _before?: Photographed,
): Promise<FoundMarks> {
  const { shaftMm } = request;
  const holes: HoleCandidate[] = [];
  for (let spot = 0; spot < fit.spotCentresMm.length; spot++) {
    const flat = flatSpot(photo, fit, spot, shaftMm);
    holes.push(...handMadeHoles(flat, fit.face, shaftMm));
  }
  const expected = expectedCount(request);
  const { chosen, warnings } = chooseHoles(holes, expected);
  const marks = chosen.map(({ hole, age, confidence }, i): Mark => {
    return {
      id: `m${i + 1}`,
      spot: hole.spot,
      mm: hole.mm,
      px: sheetToPhoto(fit, spotToSheet(fit, hole.spot, hole.mm)),
      sdMm: hole.sdMm,
      state: 'hole',
      age,
      kind: 'unknown',
      confidence,
    };
  });
  return Promise.resolve({ marks, warnings });
}

/** Marks to expect, or undefined when a person did not say. */
export function expectedCount(request: MarkRequest): number | undefined {
  if (request.fletched === undefined && request.bare === undefined) return undefined;
  return (request.fletched ?? 0) + (request.bare ?? 0);
}

/** The spot seen straight on at the scale that marks are looked for. */
export function flatSpot(photo: Raster, fit: FaceFit, spot: number, shaftMm: number): FlatFace {
  const halfWidthMm = outerRadiusMm(FACES[fit.face]) + 3 * shaftMm;
  const finestMm = 0.8 / pxPerMm(fit, spotToSheet(fit, spot, [0, 0]));
  const mmPerPx = Math.max(shaftMm / SHAFT_PX, finestMm, (2 * halfWidthMm) / MOST_PX);
  return flatten(photo, fit, { spot, mmPerPx, halfWidthMm });
}
