import { ENGLISH } from '../words/words.ts';
import type { PhotoPx, SpotMm } from '../face/coordinates.ts';
import type { FaceFit } from '../fit/camera/face-fit.ts';
import { fitRadialSdMm, fitSdMm } from '../fit/camera/fit-sd-mm.ts';
import { sheetToPhoto, spotToSheet } from '../fit/camera/project.ts';
import type { OpenCv } from '../raster/load-open-cv.ts';
import type { Raster } from '../raster/raster.ts';
import { ASSUMED_SHAFT_MM } from '../request/assumed-shaft.ts';
import { handMadeHoles } from './hand-made/hand-made-holes.ts';
import { flatSpot, viewOf, viewSpot } from './flat-view/spot-view.ts';
import type { HoleCandidate } from './candidates/hole-candidate.ts';
import { kindsByVanes, onlyKind } from './kinds-by-vanes.ts';
import type { ArrowKind, Mark } from './mark.ts';
import type { Networks } from './network/networks.ts';
import type { RearNetwork } from './network/rear-network.ts';
import { checkSameFace, newHoles, type NewHoles } from './before-after/new-holes.ts';
import { chooseArrows } from './choose-arrows.ts';
import { chooseHoles, chooseNewHoles, type ChosenHole } from './choose-holes.ts';
import { holesFromMaps } from './holes-from-maps.ts';
import { rearEnds } from './standing/rear-ends.ts';
import { rearView } from './standing/rear-view.ts';
import type { ArrowGeometry } from './standing/arrow-geometry.ts';
import {
  standingArrows,
  type CloserLook,
  type SpotLook,
  type StandingArrow,
  type StandingArrows,
} from './standing/standing-arrows.ts';
import { exposed } from './flat-view/exposed.ts';
import { flatten } from '../fit/flat/flatten.ts';
import { uncountedPlaces } from './uncounted-places.ts';
import type { Evidence } from './candidates/without-doubles.ts';

export interface MarkRequest {
  /** Diameter of the shafts, mm, where somebody said it: else what is usual, as loosely as people differ. */
  readonly shaftMm?: number | undefined;
  /** Arrows of each kind shot in this end; together the number of marks to expect. */
  readonly fletched?: number | undefined;
  readonly bare?: number | undefined;
}

export interface MarkEngine {
  readonly cv: OpenCv;
  readonly networks: Networks | null;
}

export interface Photographed {
  readonly photo: Raster;
  readonly fit: FaceFit;
}

/** Where something is that was not counted as a mark. */
export type UncountedPlace = Pick<Mark, 'spot' | 'mm' | 'sdMm' | 'radialSdMm'> & {
  readonly px: PhotoPx;
  /** Probability of being a mark at all, by the evidence alone. */
  readonly probability: number;
};

export interface FoundMarks {
  /** Best first within each age, fresh ones before the others. */
  readonly marks: Mark[];
  /** Weaker evidence of the same kind, standing arrows or holes, likeliest first. */
  readonly uncounted: UncountedPlace[];
  /** What a person should know, each a sentence. */
  readonly warnings: string[];
  /** Those of them that stay true whatever another photo of the end shows. */
  readonly lastingWarnings: string[];
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
  engine: MarkEngine,
  before?: Photographed,
): Promise<FoundMarks> {
  const { shaftMm = ASSUMED_SHAFT_MM } = request;
  const isShaftSaid = request.shaftMm !== undefined;
  const expected = expectedCount(request);
  const holes: HoleCandidate[] = [];
  const looks: SpotLook[] = [];
  const since: NewHoles[] = [];
  /** Hand-made evidence beside the network's: it sees places that the network does not. */
  const beside: HoleCandidate[] = [];
  const flats = fit.spotCentresMm.map((_, spot) => flatSpot(photo, fit, spot, shaftMm));
  // Networks in a thread of their own look at the spots while this one looks for what differs.
  const { networks } = engine;
  const looking = Promise.all(
    networks ? flats.map((flat) => networks.marks.evidence(flat, { fit, shaftMm })) : [],
  );
  // What goes wrong is thrown where it is waited for.
  looking.catch(() => undefined);
  const byHand = flats.map((flat) => {
    const view = viewOf(flat, fit, shaftMm);
    return { view, handMade: handMadeHoles(view) };
  });
  const evidence = await looking;
  for (const [spot, { view, handMade }] of byHand.entries()) {
    const maps = evidence[spot] ?? null;
    const holesAfter = maps ? holesFromMaps(view, maps, handMade) : handMade;
    holes.push(...holesAfter);
    if (maps) beside.push(...handMade);
    looks.push({ view, maps });
    if (before) {
      const viewBefore = viewSpot(before.photo, before.fit, spot, shaftMm);
      since.push(newHoles({ before: viewBefore, after: view, holesAfter }));
    }
  }
  const uncounted = (evidence: readonly Evidence[], marks: readonly Mark[]): UncountedPlace[] =>
    uncountedPlaces(evidence, marks, shaftMm).map((place) => ({
      ...placed(place, fit),
      probability: place.probability,
    }));
  const closer = closerLook(photo, fit, networks);
  let seen = await standingArrows(looks, fit, closer, { isShaftSaid });
  let standing = chooseArrows(seen.arrows, request);
  if (standing.arrows.length === 0 && networks) {
    seen = await wideArrows({ photo, fit }, shaftMm, networks, closer);
    standing = chooseArrows(seen.arrows, request);
  }
  if (standing.arrows.length > 0) {
    // Nobody need look for vanes where arrows of one kind only were shot.
    const network = onlyKind(request) ? null : (networks?.rears ?? null);
    const vanes = await vanesOf(standing.arrows, { photo, fit }, seen.geometry, shaftMm, network);
    const kinds = kindsByVanes(vanes, request);
    // What lies beside the axis of a wider shaft is the shaft.
    const widestMm = Math.max(shaftMm, seen.shaftMm);
    const marks = standingMarks(standing.arrows, kinds, holes, fit, widestMm);
    const lastingWarnings = shaftWarnings(seen.shaftMm, shaftMm, isShaftSaid);
    return {
      marks,
      uncounted: uncounted(seen.arrows, marks),
      warnings: [...standing.warnings, ...lastingWarnings],
      lastingWarnings,
    };
  }
  if (before) checkSameFace(since, expected);
  const { chosen, warnings } = before
    ? chooseNewHoles(
        since.flatMap((spot) => spot.fresh),
        since.flatMap((spot) => spot.old),
        expected,
      )
    : chooseHoles(holes, expected);
  const marks = chosen.map((hole, i) => holeMark(hole, `m${i + 1}`, fit));
  return {
    marks,
    uncounted: uncounted([...holes, ...beside], marks),
    warnings,
    lastingWarnings: [],
  };
}

/** Shafts so much wider than was said or assumed are looked for where no narrower ones stand. */
const WIDE = 2.5;
/** Flat pixels across them: enough to see whether they are there. */
const WIDE_SHAFT_PX = 5;

/**
 * Arrows far wider than the diameter and the size of face that were said would make them. Seen at the
 * scale of those, a wide shaft is no bar but a part of the picture.
 */
async function wideArrows(
  { photo, fit }: Photographed,
  toldMm: number,
  networks: Networks,
  closer: CloserLook,
): Promise<StandingArrows> {
  const shaftMm = WIDE * toldMm;
  const looks = await Promise.all(
    fit.spotCentresMm.map(async (_, spot): Promise<SpotLook> => {
      const view = viewSpot(photo, fit, spot, shaftMm, WIDE_SHAFT_PX);
      return { view, maps: await networks.marks.evidence(view.flat, { fit, shaftMm }) };
    }),
  );
  const seen = await standingArrows(looks, fit, closer, { isShaftSaid: false });
  // Narrower ones were looked for at their own scale.
  return seen.shaftMm > Math.sqrt(WIDE) * toldMm ? seen : { ...seen, arrows: [] };
}

/** Looks at parts of a photo's spots again, with the network that there is. */
export function closerLook(photo: Raster, fit: FaceFit, networks: Networks | null): CloserLook {
  return async (spot, part, context) => {
    if (!networks) return null;
    const flat = exposed(flatten(photo, fit, { spot, ...part }));
    return { flat, maps: await networks.entries.evidence(flat, { fit, ...context }) };
  };
}

/** What to say where the shafts look wider or narrower than was said, or than is usual where nobody said. */
function shaftWarnings(seenMm: number, shaftMm: number, isSaid: boolean): string[] {
  const seen = seenMm.toFixed(0);
  if (seenMm === shaftMm) return [];
  return [
    isSaid
      ? ENGLISH.say(
          'The shafts look about {seen} mm wide on a face of this size, not {told} mm: check the shaft diameter, and the size of the face.',
          { seen, told: shaftMm },
        )
      : ENGLISH.say(
          'The shafts look about {seen} mm wide on a face of this size: give their diameter, and check the size of the face.',
          { seen },
        ),
  ];
}

/** Probability of each arrow to have vanes by its looks; null where that cannot be seen. */
async function vanesOf(
  arrows: readonly StandingArrow[],
  { photo, fit }: Photographed,
  geometry: ArrowGeometry,
  shaftMm: number,
  network: RearNetwork | null,
): Promise<(number | null)[]> {
  if (!network) return arrows.map(() => null);
  const vanes = new Map<StandingArrow, number | null>();
  for (const spot of new Set(arrows.map((arrow) => arrow.spot))) {
    const here = arrows.filter((arrow) => arrow.spot === spot);
    const ends = await rearEnds(rearView(photo, fit, geometry, here, shaftMm), network, here);
    here.forEach((arrow, i) => vanes.set(arrow, ends[i]?.fletched ?? null));
  }
  return arrows.map((arrow) => vanes.get(arrow) ?? null);
}

/** Standing arrows first; where arrows stand, holes are old. */
function standingMarks(
  arrows: readonly StandingArrow[],
  kinds: readonly ArrowKind[],
  holes: readonly HoleCandidate[],
  fit: FaceFit,
  shaftMm: number,
): Mark[] {
  const fresh = arrows.map((arrow, i): Mark => ({
    id: `m${i + 1}`,
    ...placed(arrow, fit),
    state: 'standing',
    age: 'fresh',
    kind: kinds[i]!,
    confidence: arrow.probability,
    ...(arrow.hidden
      ? {
          note: ENGLISH.say('The entry is hidden behind another arrow: its place is an estimate.'),
        }
      : {}),
  }));
  const old = holes
    .filter((hole) => hole.probability >= 0.5)
    .filter((hole) => arrows.every((arrow) => !covers(arrow, hole, shaftMm)))
    .map((hole, i) =>
      holeMark({ hole, age: 'old', confidence: hole.probability }, `m${fresh.length + i + 1}`, fit),
    );
  return [...fresh, ...old];
}

function holeMark({ hole, age, confidence }: ChosenHole, id: string, fit: FaceFit): Mark {
  return { id, ...placed(hole, fit), state: 'hole', age, kind: 'unknown', confidence };
}

/** Where a candidate is in every frame, and how surely: the fit's own error comes on top. */
function placed(
  { spot, mm, sdMm }: { readonly spot: number; readonly mm: SpotMm; readonly sdMm: number },
  fit: FaceFit,
): Omit<UncountedPlace, 'probability'> {
  const sheet = spotToSheet(fit, spot, mm);
  return {
    spot,
    mm,
    px: sheetToPhoto(fit, sheet),
    sdMm: Math.hypot(sdMm, fitSdMm(fit, sheet)),
    radialSdMm: Math.hypot(sdMm, fitRadialSdMm(fit, spot, mm)),
  };
}

/** Whether a hole candidate lies under the image of an arrow, entry included. */
function covers(arrow: StandingArrow, hole: HoleCandidate, shaftMm: number): boolean {
  if (arrow.spot !== hole.spot) return false;
  const dx = hole.mm[0] - arrow.mm[0];
  const dy = hole.mm[1] - arrow.mm[1];
  const ahead = dx * arrow.along[0] + dy * arrow.along[1];
  const beside = Math.abs(dx * arrow.along[1] - dy * arrow.along[0]);
  return ahead > -shaftMm && ahead < arrow.lengthMm && beside < shaftMm;
}

/** Marks to expect, or undefined when a person did not say. */
export function expectedCount(request: MarkRequest): number | undefined {
  if (request.fletched === undefined && request.bare === undefined) return undefined;
  return (request.fletched ?? 0) + (request.bare ?? 0);
}
