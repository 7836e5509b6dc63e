import { ENGLISH } from '../words/words.ts';
import {
  FACE_IDS,
  FACES,
  FAMILIES,
  outerRadiusMm,
  ringRadiiMm,
  USUAL_FACE,
  zoneWidthMm,
  type FaceId,
  type Family,
} from '../face/faces.ts';
import { inkBands, lookOf, lookOfFamily, seenReach } from '../face/looks.ts';
import type { OpenCv } from '../raster/load-open-cv.ts';
import type { Raster } from '../raster/raster.ts';
import type { PhotoCopy } from '../raster/shrink.ts';
import { ReadingError, type ReadingErrorCode } from '../request/reading-error.ts';
import type { FaceChoice } from '../request/request.ts';
import { bulgeTermCount } from './camera/bulge-height.ts';
import {
  EXIF_FOCAL_SD,
  isTooShort,
  longLensPriors,
  partPrior,
  priorOf,
  withUsualLens,
} from './camera/camera-prior.ts';
import {
  PARAMETER,
  stateOfFit,
  stiffPrior,
  strainOf,
  turned,
  type CameraPrior,
  type CameraState,
} from './camera/camera-state.ts';
import { edgeLook } from './edges/edge-look.ts';
import type { FaceFit } from './camera/face-fit.ts';
import { findCandidates, type Border, type SpotCandidate } from './find/find-candidates.ts';
import {
  chanceOfInk,
  familiesShown,
  inkAgreement,
  inkReader,
  singles,
  type InkReader,
  type ShownFamilies,
} from './find/inks-around.ts';
import type { FitOptions } from '../request/fit-options.ts';
import { groupSpots, isLikely, type FaceCandidate } from './find/group-spots.ts';
import { paperEdges, type PaperEdges } from './edges/paper-edges.ts';
import { gravityUp } from './camera/gravity.ts';
import { farView, viewsOf, type PhotoViews } from './edges/photo-views.ts';
import { plainFit } from './camera/plain-fit.ts';
import { cameraOverSheet, photoToSheet, pxPerMm, sheetToPhoto } from './camera/project.ts';
import { misfitMm } from './edges/misfit-mm.ts';
import { ringEdges, type EdgeLook, type RingEdges } from './edges/ring-edges.ts';
import { ringSdPx } from './edges/ring-sd-px.ts';
import { ROUGH_COST, solveCamera, type CameraSolution } from './camera/solve-camera.ts';
import { startByHand } from './start/start-by-hand.ts';
import { farthestOff, GOOD_SCALE, MAY_BE_RIGHT, ringOfBorder } from './start/start-camera.ts';
import { startFace, type FaceStart, type FoundStart } from './start/start-face.ts';

export interface FaceFitResult {
  readonly fit: FaceFit;
  /** Every face that was found, the chosen one first. */
  readonly candidates: readonly FaceCandidate[];
}

/** Finds the face in a photo and measures where its rings lie. Throws a ReadingError. */
export function fitFace(photo: Raster, options: FitOptions, cv: OpenCv): FaceFitResult {
  const photoSize = [photo.width, photo.height] as const;
  const prior = priorOf(photoSize, options.focalPx);
  const views = viewsOf(photo);
  const wanted = options.face === 'auto' ? null : lookOf(FACES[options.face].family);
  const found = findCandidates(views.small, wanted, cv);
  if (options.byHand) {
    const candidates = groupSpots(found.next().value ?? [], photoSize, options);
    const notes: string[] = [];
    const faceId = faceOf(candidates[0]?.family ?? FACES[USUAL_FACE].family, options, notes);
    const starts = startByHand(views, options.byHand, faceId, prior);
    const fit = fitByHand(views, starts, prior, notes);
    if (!fit) {
      throw new ReadingError(
        'too-few-rings',
        ENGLISH.say(
          'No rings were found around these taps: tap the centre, then two places on one ring again.',
        ),
      );
    }
    return { fit, candidates };
  }
  let firstError: ReadingError | null = null;
  for (const spots of found) {
    // What was asked for is not looked for in what looks otherwise.
    if (firstError && wanted && spots[0]!.look.inks[0] !== wanted.inks[0]) break;
    const outcome = fitOneOf(views, spots, options, prior);
    if (!(outcome instanceof ReadingError)) return outcome;
    firstError ??= outcome;
    if (!NO_FACE.has(outcome.code)) break;
  }
  throw firstError ?? noFace();
}

/** Fits the first of the faces that these spots make which is one; says why where none is. */
function fitOneOf(
  views: PhotoViews,
  spots: readonly SpotCandidate[],
  options: FitOptions,
  prior: CameraPrior,
): FaceFitResult | ReadingError {
  const { width, height } = views.whole.raster;
  const candidates = groupSpots(spots, [width, height], options);
  // What is no face at all may be taken for one, but no camera shows it: then it is the next one's
  // turn, unless a person pointed at it.
  const tried = options.pick ? candidates.slice(0, 1) : candidates.filter(isLikely);
  let firstError: ReadingError | null = null;
  for (const chosen of tried) {
    try {
      checkKind(chosen, options.face);
      const fit = fitCandidate(chosen, spots, views, options, prior);
      return { fit, candidates: [chosen, ...candidates.filter((other) => other !== chosen)] };
    } catch (error) {
      if (!(error instanceof ReadingError)) throw error;
      firstError ??= error;
      if (!NO_FACE.has(error.code)) break;
    }
  }
  // Of what shows hardly a border of a face it is no help to say why it was not fitted.
  const isFace = tried.some(({ support }) => support >= LEAST_FACE);
  return firstError && (isFace || !NO_FACE.has(firstError.code)) ? firstError : noFace();
}

/** What shows less of the borders of a face is hardly one. */
const LEAST_FACE = 0.6;

function noFace(): ReadingError {
  return new ReadingError(
    'no-face',
    ENGLISH.say(
      'No target face was found: photograph the whole face from the front, or place it by hand with a tap on its centre and two on a ring.',
    ),
  );
}

/** Reasons for which a candidate may be no face. */
const NO_FACE: ReadonlySet<ReadingErrorCode> = new Set(['too-few-rings', 'too-steep', 'no-face']);

/** Measures one of the faces that were found, as what was said or as what it looks like. */
function fitCandidate(
  chosen: FaceCandidate,
  spots: readonly SpotCandidate[],
  views: PhotoViews,
  options: FitOptions,
  prior: CameraPrior,
): FaceFit {
  const { width, height } = views.whole.raster;
  const size = { photoSize: [width, height] as const, factor: views.small.factor };
  const read = inkReader(views.small, spots[chosen.spots[0]!]!.inks);
  const notes: string[] = [];
  const several = lookOfFamily(chosen.family).spots.length > 1;
  const shown = several ? null : shownFace(chosen, spots, size, prior, read);
  const family = shown?.family ?? chosen.family;
  if (shown && options.face !== 'auto') checkFamily(options.face, shown, notes);
  const faceId = faceOf(family, options, notes);
  const startsBy = (belief: CameraPrior): FaceStart[] => {
    if (shown && belief === prior) return shown.starts.map((start) => startedAs(faceId, start));
    const starts = startFace(chosen, spots, shown?.startsAs ?? faceId, size, belief);
    // Two spots of three may be the upper ones or the lower ones: where the third is tells which.
    const whole = several
      ? starts.filter(({ solution }) => showsAllSpots(read, solution.state))
      : starts;
    return (whole.length > 0 ? whole : starts).map((start) => startedAs(faceId, start));
  };
  const ends = FACES[faceId].zones.findIndex(
    ({ outerRadiusMm }) => outerRadiusMm <= endMm(shown?.surely ?? family, faceId),
  );
  const outermost = Math.max(0, ends);
  // Which spot of a sheet the found ones are is only known after the fit.
  const borders = several ? [] : spots[chosen.spots[0]!]!.borders;
  const fitFrom = (firstRing: number) =>
    bestFit({ views, firstRing, borders }, startsBy, prior, notes);
  const best = fitFrom(outermost);
  if (several) checkSpots(best.fit, read);
  const surely = shown ? shown.surely : family;
  if (showsInks(read, stateOfFit(best.fit), surely)) {
    if (isClose(best)) return best.fit;
    if (isBent(best)) return bent(best.fit);
    const ofMiddle = inkBands(FACES[faceId])[1]!.ring;
    if (ofMiddle > outermost && best.middleSeen >= BENT.leastMiddle) {
      const middle = fitFrom(ofMiddle);
      if (isClose(middle) && showsInks(read, stateOfFit(middle.fit), surely))
        return bent(middle.fit);
    }
  }
  throw noSuchFace();
}

/** Radius at which a family's faces end, mm, when their zones are as wide as a face's. */
function endMm(family: Family, faceId: FaceId): number {
  const own = FACES[FAMILIES[family].usual];
  return 1.01 * outerRadiusMm(own) * (zoneWidthMm(FACES[faceId]) / zoneWidthMm(own));
}

/** What a face with one spot turns out to be, looked at closely. */
interface ShownFace {
  /** Likeliest of the families that it may be of. */
  readonly family: Family;
  /** What is seen of it is at least a face of this family. */
  readonly surely: Family;
  readonly orLonger: readonly Family[];
  /** A face whose borders lie as those that were found. */
  readonly startsAs: FaceId;
  /** Its first cameras by what is believed of the camera at first. */
  readonly starts: readonly FaceStart[];
}

/** By this factor borders must lie nearer to another family's rings than to the likeliest one's. */
const CLEARLY_BETTER = 1.5;

function placeIn(families: readonly Family[], family: Family): number {
  const place = families.indexOf(family);
  return place < 0 ? families.length : place;
}

/**
 * Whether a start may be of the face's own family: none of its borders is much farther off than it need be, and
 * its inks go on as far as the family's.
 */
function mayBeRight(
  start: FoundStart,
  { shown, orLonger }: ShownFamilies,
  bands: number,
  nearest: number,
): boolean {
  const { family } = FACES[start.solution.state.face];
  const goesOn =
    orLonger.includes(family) || seenReach(lookOfFamily(shown)) >= seenReach(lookOfFamily(family));
  return goesOn && farthestOff(start, bands) <= MAY_BE_RIGHT * nearest;
}

function shownFace(
  chosen: FaceCandidate,
  spots: readonly SpotCandidate[],
  size: { readonly photoSize: readonly [number, number]; readonly factor: number },
  prior: CameraPrior,
  read: InkReader,
): ShownFace | null {
  const likeliest = spots[chosen.spots[0]!]!.families;
  const trials: FoundStart[] = [];
  const alike = singles(chosen.family).sort(
    (a, b) => placeIn(likeliest, a.family) - placeIn(likeliest, b.family),
  );
  // Families are held against one another by the borders that all of them have.
  const common = Math.min(...alike.map(({ borders }) => borders));
  const isGood = (start: FoundStart): boolean =>
    start.solution.scale < GOOD_SCALE && farthestOff(start, common) < MAY_BE_RIGHT * GOOD_SCALE;
  for (const { family } of alike) {
    const starts = startFace(chosen, spots, FAMILIES[family].usual, size, prior);
    trials.push(...starts);
    // Where the borders lie on a family's rings as exactly as they are found, no other fits better.
    if (starts.some(isGood)) break;
  }
  if (trials.length === 0) return null;
  const nearest = Math.min(...trials.map((start) => farthestOff(start, common)));
  const seen = trials.map((start) => {
    const families = familiesShown(read, start.solution.state);
    return { start, ...families, mayBe: mayBeRight(start, families, common, nearest) };
  });
  const { start, shown, orLonger } = seen.reduce((best, one) => {
    if (one.mayBe !== best.mayBe) return one.mayBe ? one : best;
    return one.start.solution.scale * CLEARLY_BETTER < best.start.solution.scale ? one : best;
  });
  const { state } = start.solution;
  return {
    // Close up, what is usual is likelier than what has been cut down.
    family: orLonger.at(-1) ?? shown,
    surely: shown,
    orLonger,
    startsAs: state.face,
    starts: trials.filter(({ solution }) => solution.state.face === state.face),
  };
}

/**
 * Answers a face that was said and is not the one that is seen. Where only the outermost zone of an ink
 * is not there, all others lie where they were said to be.
 * @throws ReadingError 'wrong-face'
 */
function checkFamily(said: FaceId, { surely, orLonger }: ShownFace, notes: string[]): void {
  const { family, name } = FACES[said];
  if (family === surely || orLonger.includes(family)) return;
  const [own, seen] = [lookOfFamily(family), lookOfFamily(surely)];
  if (own.spots.length > 1) throw onlyOneSpot(said, surely);
  const lowest = FACES[FAMILIES[surely].usual].zones[0]!.value;
  if (
    own.bands.length === seen.bands.length &&
    own.bands.at(-1)!.reach > seen.bands.at(-1)!.reach
  ) {
    notes.push(
      ENGLISH.say(
        'No ring is seen beyond zone {zone}: is it {other}? The rings of both are the same up to there.',
        { zone: lowest, other: FAMILIES[surely].called },
      ),
    );
    return;
  }
  const looksLike = alikeOf(surely, said);
  throw new ReadingError(
    'wrong-face',
    ENGLISH.say(
      'This is not the {face} face: its rings are those of {seen}. Read it as the {like} face, or say which it is.',
      { face: name, seen: FAMILIES[surely].called, like: FACES[looksLike].name },
    ),
    looksLike,
  );
}

/** Whether each spot shows its inks: spots beyond the last one seen would lie on the boss. */
function showsAllSpots(read: InkReader, state: CameraState): boolean {
  const { family } = FACES[state.face];
  return state.spotCentresMm.every((_, spot) => showsInks(read, state, family, [spot]));
}

/** No spot is claimed that the picture does not show. */
function checkSpots(fit: FaceFit, read: InkReader): void {
  const [width, height] = fit.photoSize;
  const outside = fit.spotCentresMm.some((centre) => {
    const [x, y] = sheetToPhoto(fit, centre);
    return !(x >= 0 && y >= 0 && x < width && y < height);
  });
  if (outside || !showsAllSpots(read, stateOfFit(fit)))
    throw onlyOneSpot(fit.face, singles(FACES[fit.face].family)[0]!.family);
}

function onlyOneSpot(said: FaceId, seen: Family): ReadingError {
  const looksLike = alikeOf(seen, said);
  return new ReadingError(
    'wrong-face',
    ENGLISH.say(
      'Not all spots of the face can be seen ({face}): photograph the whole sheet, or read one spot as the {like} face.',
      { face: FACES[said].name, like: FACES[looksLike].name },
    ),
    looksLike,
  );
}

/** The face of a family whose zones are as wide as another's, else its usual one. */
function alikeOf(family: Family, other: FaceId): FaceId {
  const width = zoneWidthMm(FACES[other]);
  const alike = FACE_IDS.find(
    (id) => FACES[id].family === family && zoneWidthMm(FACES[id]) === width,
  );
  return alike ?? FAMILIES[family].usual;
}

/** The same camera, looking at a face of other zones whose inner ones are alike. */
function startedAs(faceId: FaceId, { solution, sdPx }: FaceStart): FaceStart {
  const { state, covariance } = solution;
  if (state.face === faceId) return { solution, sdPx };
  const face = FACES[faceId];
  const scale = zoneWidthMm(face) / zoneWidthMm(FACES[state.face]);
  const isLength = (i: number) => i >= PARAMETER.shiftX && i <= PARAMETER.shiftZ;
  return {
    sdPx,
    solution: {
      ...solution,
      state: {
        ...state,
        face: faceId,
        translationMm: state.translationMm.map((value) => value * scale) as [
          number,
          number,
          number,
        ],
        spotCentresMm: face.spotCentresMm,
        ringOffsetsMm: ringRadiiMm(face).map(() => 0),
      },
      covariance: covariance.map((row, i) =>
        row.map((value, j) => value * (isLength(i) ? scale : 1) * (isLength(j) ? scale : 1)),
      ),
    },
  };
}

/**
 * Of a face's colours so much must be where the fit has them beyond what chance puts there, which is the
 * more the fewer inks it has: arrows, holes and shade hide some.
 */
const LEAST_INK = 0.25;

/** Whether a family's colours are where a camera has them, over these of its spots, or all. */
function showsInks(
  read: InkReader,
  state: CameraState,
  family: Family,
  spots?: readonly number[],
): boolean {
  const chance = chanceOfInk(family);
  return inkAgreement(read, state, family, spots) >= chance + LEAST_INK * (1 - chance);
}

/** Largest misfit of a face's rings, see `misfitZones`: real faces, worn and seen from the side, have less. */
const MOST_MISFIT = 0.13;
/** Where no more is wrong than this, in widths of a zone, and the middle is seen so well, the middle holds. */
const BENT = { mostResidual: 0.12, leastMiddle: 0.6 } as const;

/**
 * Robust distance of ring edges from their rings, in widths of a zone, and the more the fewer of the
 * places at which rings were looked for show one: edges of anything lie on some wrong ring or other.
 */
function misfitZones(refined: RefinedFit): number {
  return residualZones(refined) / refined.shareSeen;
}

/**
 * The same of the borders between inks alone: lines within one ink are lost in a coarse picture, where edges of
 * shade are taken for them. The fewer borders there are, the more often something else has them too.
 */
function bordersMisfitZones({ borders }: RefinedFit): number {
  return borders.rings < LEAST_RINGS ? Infinity : borders.residualZones / borders.shareSeen;
}

function residualZones({ fit }: RefinedFit): number {
  return fit.residualMm / zoneWidthMm(FACES[fit.face]);
}

/** Whether the middle of the face lies where the fit has it, though not all of it does. */
function isBent(refined: RefinedFit): boolean {
  return residualZones(refined) <= BENT.mostResidual && refined.middleSeen >= BENT.leastMiddle;
}

function noSuchFace(): ReadingError {
  return new ReadingError(
    'no-face',
    ENGLISH.say(
      'The rings that were found fit no face that endwise knows: photograph the whole face from the front, choose which face it is, or place it by hand with a tap on its centre and two on a ring.',
    ),
  );
}

/** A fit of which only the middle holds. */
function bent(fit: FaceFit): FaceFit {
  return { ...fit, notes: [...fit.notes, BENT_NOTE] };
}

const BENT_NOTE = ENGLISH.say(
  'Only the rings in the middle lie where they should: the paper is bent farther out. Do not trust positions and values there.',
);

/** What a fit looks at. */
interface Sight {
  readonly views: PhotoViews;
  /** The outermost ring that is there: faces that were cut down lack those before it. */
  readonly firstRing: number;
  /** Borders between inks as they were found at first. */
  readonly borders: readonly Border[];
}

/** Null where no fit holds: whatever a fit from wrong taps complains of, the taps are the reason. */
function fitByHand(
  views: PhotoViews,
  starts: readonly FaceStart[],
  prior: CameraPrior,
  notes: readonly string[],
): FaceFit | null {
  try {
    return bestFit({ views, firstRing: 0, borders: [] }, () => starts, prior, notes).fit;
  } catch (error) {
    if (error instanceof ReadingError) return null;
    throw error;
  }
}

/**
 * Standard deviations from which on what is believed of camera and paper is wrong: whole photos strain
 * it by one or two, sheets of several spots by three, parts cut out of one side of a photo by four to
 * thirty.
 */
const MOST_STRAIN = 3.5;

/**
 * The fit from the start whose rings are seen best. Where no usual camera shows usual paper so, the
 * picture is taken for a part of a photo, or for taken through a longer lens than a phone's.
 */
function bestFit(
  sight: Sight,
  startsBy: (prior: CameraPrior) => readonly FaceStart[],
  prior: CameraPrior,
  notes: readonly string[],
): RefinedFit {
  const { width, height } = sight.views.whole.raster;
  const by = (belief: CameraPrior, told: readonly string[]) => {
    const outcome = bestRefined(sight, startsBy(belief), belief, told);
    const { best } = outcome;
    if (!best || !isTooShort([width, height], best.fit.focal.px)) return outcome;
    const usual = withUsualLens(belief);
    const again = bestRefined(sight, startsBy(usual), usual, told);
    return again.best && (isClose(again.best) || !isClose(best)) ? again : outcome;
  };
  const part = () => by(partPrior([width, height], prior), [...notes, CUT_NOTE]).best;
  const { best, error } = by(prior, notes);
  if (best && isClose(best)) {
    const cut = best.strain > MOST_STRAIN ? part() : null;
    return cut && cut.strain < best.strain / 2 ? cut : best;
  }
  if (!best && !(error && NO_FACE.has(error.code))) throw error ?? tooFewRings();
  let closest: RefinedFit | null = null;
  let bent = best && isBent(best) ? best : null;
  const others = [
    part,
    // What looks too steep through a phone's lens may be less so, and far, through a longer one.
    ...longLensPriors([width, height], prior).map((belief) => () => by(belief, notes).best),
  ];
  for (const other of others) {
    const refined = other();
    if (refined && isBent(refined) && refined.strain < MOST_STRAIN) bent ??= refined;
    if (!refined || !isClose(refined)) continue;
    if (refined.strain < MOST_STRAIN) return refined;
    const isClear = misfitZones(refined) <= MOST_MISFIT / 2;
    if (isClear && (!closest || refined.strain < closest.strain)) closest = refined;
  }
  const refined = closest ?? bent ?? best;
  if (!refined) throw error ?? tooFewRings();
  return refined;
}

/** Whether all rings lie where the fit has them or, so much the more exactly, the borders between inks. */
function isClose(refined: RefinedFit): boolean {
  if (refined.strayBorder > MOST_STRAY) return false;
  return misfitZones(refined) <= MOST_MISFIT || bordersMisfitZones(refined) <= MOST_MISFIT / 2;
}

const CUT_NOTE = ENGLISH.say(
  'The picture seems to be cut out of a larger photo: take the whole photo if you have it.',
);

/** The fit from the start whose rings are seen best; where none holds, the first one's error. */
function bestRefined(
  sight: Sight,
  starts: readonly FaceStart[],
  prior: CameraPrior,
  notes: readonly string[],
): { readonly best: RefinedFit | null; readonly error: ReadingError | null } {
  let best: RefinedFit | null = null;
  let first: ReadingError | null = null;
  for (const { solution, sdPx } of starts) {
    try {
      const refined = refine(sight, solution, prior, sdPx, notes);
      if (!best || refined.merit > best.merit) best = refined;
    } catch (error) {
      if (!(error instanceof ReadingError)) throw error;
      first ??= error;
    }
  }
  return { best, error: first };
}

function tooFewRings(): ReadingError {
  return new ReadingError(
    'too-few-rings',
    ENGLISH.say(
      'Too few ring edges can be seen: take a sharper photo of the whole face, or place it by hand.',
    ),
  );
}

/** Faces of different looks cannot be taken for one another. */
function checkKind(chosen: FaceCandidate, choice: FaceChoice): void {
  if (choice === 'auto') return;
  if (lookOf(FACES[choice].family) !== lookOf(chosen.family)) {
    const seen = FAMILIES[chosen.family].seenAs;
    throw new ReadingError(
      'wrong-face',
      ENGLISH.say('The photo shows {seen}, not the {face} face: choose the face that was shot.', {
        seen,
        face: FACES[choice].name,
      }),
    );
  }
}

/** The face to fit: the one asked for, or the usual one of the family that was seen. */
function faceOf(
  family: Family,
  { face: choice, sizes }: Pick<FitOptions, 'face' | 'sizes'>,
  notes: string[],
): FaceId {
  if (choice !== 'auto') return choice;
  const known = sizes?.[family];
  if (known !== undefined) {
    notes.push(
      ENGLISH.say('Read as the {face} face, the size last given for faces of this look.', {
        face: FACES[known].name,
      }),
    );
    return known;
  }
  const { usual: id, oneSize } = FAMILIES[family];
  if (!oneSize) {
    notes.push(
      ENGLISH.say(
        'A photo does not show how large a face is: it was taken as the {face} face. Choose the right size if it is another.',
        { face: FACES[id].name },
      ),
    );
  }
  return id;
}

interface RefinedFit {
  readonly fit: FaceFit;
  /** Places at which a ring was seen, less those at which one was looked for in vain. */
  readonly merit: number;
  /** Part of the places at which a ring was looked for that show one. */
  readonly shareSeen: number;
  /** The same of the borders of the two innermost inks alone, the lesser of both. */
  readonly middleSeen: number;
  /** Of the borders between inks alone: how many were seen, how far from their rings, and in what part of the places. */
  readonly borders: {
    readonly rings: number;
    readonly residualZones: number;
    readonly shareSeen: number;
  };
  /** Largest share of a border between inks, as it was found at first, that lies nearer to another ring than to its own. */
  readonly strayBorder: number;
  /** How far camera and paper are from what was believed, at most, in standard deviations of belief. */
  readonly strain: number;
}

function refine(
  { views, firstRing, borders: found }: Sight,
  start: CameraSolution,
  prior: CameraPrior,
  startSdPx: number,
  known: readonly string[],
): RefinedFit {
  const notes = [...known];
  const face = FACES[start.state.face];
  let look: EdgeLook = { lineMm: 0.0025 * outerRadiusMm(face), blurPx: 1 };
  const stiff = stiffPrior(prior);
  let state = start.state;
  let edges: RingEdges = { points: [], profiles: [], inFrame: [], tried: [] };
  let solution: CameraSolution | null = start;
  const { whole } = views;
  const measure = (
    view: PhotoCopy,
    least: number,
    blocks: number,
    belief: CameraPrior,
    settledCost?: number,
  ): CameraSolution => {
    const last = solution;
    const reachPx = (spot: number, ring: number): number =>
      least + 4 * (last ? ringSdPx(state, last.covariance, spot, ring) : 0);
    edges = ringEdges(view, state, { look, reachPx, blocks, firstRing });
    if (edges.points.length < 40) throw tooFewRings();
    const found = solveCamera(state, edges.points, {
      prior: belief,
      ...(settledCost === undefined ? {} : { settledCost }),
    });
    state = found.state;
    return found;
  };

  // Twice: rings beyond the reach of the first look are within that of the second. The first looks
  // far, so it does on the small copy.
  const far = farView(views, zonePx(start.state));
  solution = measure(far, 3 * startSdPx + 4, 48, stiff, ROUGH_COST);
  solution = measure(whole, startSdPx + 4, 60, stiff, ROUGH_COST);
  look = edgeLook(face, edges.profiles, solution.weight, look);

  let upFrom: FaceFit['upFrom'] = 'photo';
  let upSd: number;
  const several = state.spotCentresMm.length > 1;
  if (several) {
    upFrom = 'spots';
    upSd = 0;
  } else {
    const gravity = gravityUp(state);
    state = { ...state, rotation: turned(state.rotation, 0, 0, gravity.turn) };
    upSd = gravity.sd;
    const { paper, strayTurn } = paperEdges(whole.raster, state, {
      outerMm: ringRadiiMm(face)[firstRing]!,
      upSd: gravity.sd,
    });
    if (paper) {
      state = { ...state, rotation: turned(state.rotation, 0, 0, paper.turn) };
      upFrom = 'paper-edges';
      upSd = paper.sd;
    }
    notes.push(...upNotes(paper, strayTurn));
  }

  const belief = { ...prior, turnZSdRad: several ? 1 : Math.max(upSd, 1e-4) };
  state = { ...state, bulge: new Array<number>(bulgeTermCount(5)).fill(0) };
  solution = measure(whole, Math.max(3, 4 * look.blurPx), 90, belief, ROUGH_COST);
  look = edgeLook(face, edges.profiles, solution.weight, look);
  solution = measure(whole, Math.max(2.5, 3 * look.blurPx), 120, belief);

  const fit = fitOf(state, solution, edges, prior, { upFrom, upSd, notes });
  checkFit(fit, edges, solution, look);
  addNotes(fit, edges, notes);
  const seen = ringRadiiMm(face).map(() => 0);
  edges.points.forEach(({ ring }, i) => (seen[ring]! += solution.weight[i]!));
  const tried = seen.map((_, ring) => edges.tried.reduce((sum, rings) => sum + rings[ring]!, 0));
  const total = (counts: readonly number[]) => counts.reduce((sum, count) => sum + count, 0);
  const middle = inkBands(face).slice(0, 2);
  // The outermost ends where the paper goes on in the same white.
  const borders = inkBands(face).flatMap(({ ring }) =>
    ring > 0 && ring >= firstRing && tried[ring]! > 0 ? [ring] : [],
  );
  const ofBorders = (counts: readonly number[]) => total(borders.map((ring) => counts[ring]!));
  return {
    fit,
    merit: 2 * total(seen) - total(tried),
    shareSeen: total(seen) / total(tried),
    middleSeen: Math.min(...middle.map(({ ring }) => seen[ring]! / Math.max(1, tried[ring]!))),
    borders: {
      rings: borders.length,
      residualZones: residualMmOf(solution, edges, new Set(borders)) / zoneWidthMm(face),
      shareSeen: ofBorders(seen) / ofBorders(tried),
    },
    strayBorder: strayBorder(fit, found, firstRing),
    strain: strainOf(state, prior),
  };
}

/**
 * Lines within one ink look alike: rings one zone off have edges too, though the borders between inks do
 * not. More than this of one such border is no arrow and no crease.
 */
const MOST_STRAY = 0.2;
/** Share of all directions that is most of them. */
const MOST_AROUND = 0.5;

function strayBorder(fit: FaceFit, borders: readonly Border[], firstRing: number): number {
  const face = FACES[fit.face];
  const [cx, cy] = fit.spotCentresMm[0]!;
  const half = zoneWidthMm(face) / 2;
  const shares = borders.flatMap((border) => {
    const ring = ringOfBorder(face, border);
    // What is seen in few directions may be an edge of something else.
    if (ring < firstRing || border.support < MOST_AROUND) return [];
    const radiusMm = ringRadiiMm(face)[ring]!;
    const stray = border.points.filter((px) => {
      const [x, y] = photoToSheet(fit, px);
      return Math.abs(Math.hypot(x - cx, y - cy) - radiusMm) > half;
    });
    return [stray.length / border.points.length];
  });
  return Math.max(0, ...shares);
}

/** Width of an outer zone in the photo's pixels. */
function zonePx(state: CameraState): number {
  const radii = ringRadiiMm(FACES[state.face]);
  return (radii[0]! - radii[1]!) * pxPerMm(plainFit(state), state.spotCentresMm[0]!);
}

/** Least number of rings that must be seen, and in what part of the directions. */
const LEAST_RINGS = 3;
const LEAST_SHARE = 0.12;
/** Beyond this angle from the front a mark's place along the line of sight is a guess. */
const STEEPEST_DEG = 68;
/** A zone must span this many pixels for marks to be told from one another. */
const LEAST_ZONE_PX = 6;

/** Refuses a fit that does not hold, saying why and what to do. */
function checkFit(fit: FaceFit, edges: RingEdges, solution: CameraSolution, look: EdgeLook): void {
  const face = FACES[fit.face];
  const [width, height] = fit.photoSize;
  const inside = fit.spotCentresMm.some((centre) => {
    const [x, y] = sheetToPhoto(fit, centre);
    return x >= 0 && y >= 0 && x < width && y < height;
  });
  if (!inside) {
    throw new ReadingError(
      'centre-outside',
      ENGLISH.say('The centre of the face lies outside the photo: take one that shows it.'),
    );
  }
  const [x, y, heightMm] = cameraOverSheet(fit);
  const fromFrontDeg = (Math.atan2(Math.hypot(x, y), heightMm) * 180) / Math.PI;
  if (fromFrontDeg > STEEPEST_DEG) {
    throw new ReadingError(
      'too-steep',
      ENGLISH.say(
        'The photo was taken {degrees} degrees from the side: stand in front of the face.',
        { degrees: Math.round(fromFrontDeg) },
      ),
    );
  }
  const radii = ringRadiiMm(face);
  const outerZonePx = (radii[0]! - radii[1]!) * pxPerMm(fit, fit.spotCentresMm[0]!);
  if (outerZonePx < LEAST_ZONE_PX) {
    throw new ReadingError(
      'too-small',
      ENGLISH.say('The face is too small in the photo: go closer.'),
    );
  }
  if (look.blurPx > 0.3 * outerZonePx) {
    throw new ReadingError(
      'too-blurred',
      ENGLISH.say('The photo is too blurred: hold the camera still and let it focus on the face.'),
    );
  }
  const seen = radii.map(() => 0);
  const tried = radii.map(() => 0);
  edges.points.forEach((point, i) => (seen[point.ring]! += solution.weight[i]! > 0.1 ? 1 : 0));
  for (const blocks of edges.tried) blocks.forEach((count, ring) => (tried[ring]! += count));
  const share = seen.map((count, ring) => (tried[ring]! > 0 ? count / tried[ring]! : 0));
  if (share.filter((part) => part >= LEAST_SHARE).length < LEAST_RINGS) throw tooFewRings();
}

/** From this angle between the paper and a level photo on a person should know, rad. */
const CROOKED_RAD = (8 * Math.PI) / 180;

function upNotes(paper: PaperEdges | null, strayTurn: number | null): string[] {
  const degrees = (turn: number) => Math.round(Math.abs((turn * 180) / Math.PI));
  if (strayTurn !== null) {
    return [
      ENGLISH.say(
        'Straight edges around the face are turned by {degrees} degrees against the photo: up on the face was taken from the photo. Hold the camera level if it was not.',
        { degrees: degrees(strayTurn) },
      ),
    ];
  }
  if (!paper) {
    return [
      ENGLISH.say("The paper's edges cannot be seen: up on the face was taken from the photo."),
    ];
  }
  if (Math.abs(paper.turn) < CROOKED_RAD) return [];
  return [
    ENGLISH.say(
      "The paper hangs, or the camera was held, {degrees} degrees from level: up on the face was taken from the paper's edges.",
      { degrees: degrees(paper.turn) },
    ),
  ];
}

function fitOf(
  state: CameraState,
  solution: CameraSolution,
  edges: RingEdges,
  prior: CameraPrior,
  up: { upFrom: FaceFit['upFrom']; upSd: number; notes: readonly string[] },
): FaceFit {
  const fit = plainFit(state);
  const focalSd = Math.sqrt(solution.covariance[PARAMETER.logFocal]![PARAMETER.logFocal]!);
  // EXIF's belief is narrow from the start; a wide one must have been narrowed by the picture.
  const source =
    prior.logFocalSd === EXIF_FOCAL_SD
      ? 'exif'
      : focalSd < prior.logFocalSd / 2
        ? 'estimated'
        : 'assumed';
  return {
    ...fit,
    focal: { px: state.focalPx, source },
    residualMm: residualMmOf(solution, edges),
    misfitMm: misfitMm(edges, solution),
    upFrom: up.upFrom,
    upSdDeg: (up.upSd * 180) / Math.PI,
    covariance: solution.covariance,
    notes: up.notes,
  };
}

/** Robust rms of ring edges about their rings, mm on the face: of all, or of those of some rings. */
function residualMmOf(
  solution: CameraSolution,
  { points, profiles }: RingEdges,
  rings?: ReadonlySet<number>,
): number {
  let sum = 0;
  let weights = 0;
  points.forEach(({ ring }, i) => {
    if (rings && !rings.has(ring)) return;
    const weight = solution.weight[i]!;
    const mm = solution.residualPx[i]! / profiles[i]!.pxPerMm;
    sum += weight * mm * mm;
    weights += weight;
  });
  return weights > 0 ? Math.sqrt(sum / weights) : 0;
}

function addNotes(fit: FaceFit, edges: RingEdges, notes: string[]): void {
  const face = FACES[fit.face];
  const cut = edges.inFrame.some((rings) => rings.some((share) => share < 0.97));
  if (cut) notes.push(ENGLISH.say('Part of the rings lies outside the photo.'));
  if (fit.tiltDeg > 40) {
    notes.push(
      ENGLISH.say('The photo was taken very much from the side: positions are less certain.'),
    );
  }
  if (pxPerMm(fit, [0, 0]) * ringRadiiMm(face).at(-1)! < 12) {
    notes.push(ENGLISH.say('The face is small in the photo: go closer for better positions.'));
  }
}
