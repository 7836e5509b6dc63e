import type { FaceFit } from '../fit/face-fit.ts';
import { sheetToPhoto, spotToSheet } from '../fit/project.ts';
import type { OpenCv } from '../raster/load-open-cv.ts';
import type { Raster } from '../raster/raster.ts';
import { handMadeHoles } from './hand-made/hand-made-holes.ts';
import { viewSpot } from './hand-made/spot-view.ts';
import type { HoleCandidate } from './hole-candidate.ts';
import type { Mark } from './mark.ts';
import type { MarkNetwork } from './network/mark-network.ts';
import { checkSameFace, newHoles, type NewHoles } from './before-after/new-holes.ts';
import { chooseHoles, chooseNewHoles } from './choose-holes.ts';

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
  before?: Photographed,
): Promise<FoundMarks> {
  const { shaftMm } = request;
  const expected = expectedCount(request);
  const holes: HoleCandidate[] = [];
  const since: NewHoles[] = [];
  for (let spot = 0; spot < fit.spotCentresMm.length; spot++) {
    const view = viewSpot(photo, fit, spot, shaftMm);
    const holesAfter = handMadeHoles(view);
    holes.push(...holesAfter);
    if (before) {
      const viewBefore = viewSpot(before.photo, before.fit, spot, shaftMm);
      since.push(newHoles({ before: viewBefore, after: view, holesAfter }));
    }
  }
  if (before) checkSameFace(since, expected);
  const { chosen, warnings } = before
    ? chooseNewHoles(
        since.flatMap((spot) => spot.fresh),
        since.flatMap((spot) => spot.old),
        expected,
      )
    : chooseHoles(holes, expected);
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
