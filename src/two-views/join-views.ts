import { foundTooFew } from '../marks/found-too-few.ts';
import { ENGLISH } from '../words/words.ts';
import type { SpotMm } from '../face/coordinates.ts';
import type { FaceFit } from '../fit/camera/face-fit.ts';
import { sheetToPhoto, spotToSheet } from '../fit/camera/project.ts';
import type { FoundMarks, UncountedPlace } from '../marks/find-marks.ts';
import type { ArrowKind, Mark, MarkAge } from '../marks/mark.ts';
import { layUpon, type Overlay } from './overlay.ts';
import { placesOf, type Place } from './place.ts';
import { checkSameEnd } from './same-end.ts';

/** One photo of an end: where the face lies in it and what was found on it. */
export interface ViewOfEnd {
  readonly fit: FaceFit;
  readonly found: FoundMarks;
}

/** A joined place is an arrow of this end from this probability on. */
const MARK = 0.5;
/** A known number of arrows makes a weaker one likely, down to this; never less. */
const EXPECTED_MARK = 0.12;
/** Odds that a mark gains by lying where the other photo shows one too. */
const SEEN_TWICE = 6;
/** Odds that it loses where the other photo shows the place, and nothing there. */
const SEEN_ONCE = 0.5;
/** Two photos that differ on "up" by more than this, degrees, and by more than their errors. */
const TOLD_TURN_DEG = 4;

/**
 * Joins two photos of one end: entries are matched by millimetres, what both show is placed by both
 * and the surer for it, what one hides is taken from the other, and kinds come from either. The
 * millimetres are those of the first photo's face.
 *
 * @param expected arrows shot, where a person said
 * @throws ReadingError where the second photo shows another end
 */
export function joinViews(
  first: ViewOfEnd,
  second: ViewOfEnd,
  expected: number | undefined,
): FoundMarks {
  const [a, b] = [placesOf(first.found), placesOf(second.found)];
  const overlay = layUpon(a, b, Math.hypot(first.fit.upSdDeg, second.fit.upSdDeg));
  checkSameEnd(a, b, overlay);
  const joined = joinedPlaces(a, b, overlay, { first: first.fit, second: second.fit });
  const stands = joined.some(({ places }) => places.some(({ what }) => what === 'arrow'));
  const marks = stands ? standingOf(joined, expected) : holesOf(joined, expected);
  const fresh = marks.filter(({ age }) => age !== 'old').length;
  const lastingWarnings = [
    ...new Set([...first.found.lastingWarnings, ...second.found.lastingWarnings]),
  ];
  return {
    marks: marks.map((mark, i) => ({ ...mark, id: `m${i + 1}` })),
    uncounted: uncountedOf(joined, marks, first),
    warnings: [
      ...shortfall(fresh, expected),
      ...turnTold(overlay, first.fit, second.fit),
      ...lastingWarnings,
    ],
    lastingWarnings,
  };
}

/** One place by all that the two photos show there. */
interface Joined {
  readonly spot: number;
  readonly mm: SpotMm;
  readonly px: Mark['px'];
  readonly sdMm: number;
  readonly turnSdMm: number;
  /** Of being an arrow of this end. */
  readonly probability: number;
  /** The first photo's place first; at least one. */
  readonly places: readonly Place[];
  readonly onlySecond: boolean;
}

function joinedPlaces(
  a: readonly Place[],
  b: readonly Place[],
  overlay: Overlay,
  fits: { readonly first: FaceFit; readonly second: FaceFit },
): Joined[] {
  const { matches, toFirst, turnSd } = overlay;
  const both = matches.map(({ first, second, chi2 }): Joined => {
    const at = toFirst(second.mm);
    const turned2 = (Math.hypot(...at) * turnSd) ** 2 / 2;
    const [va, vb] = [first.sdMm ** 2, second.sdMm ** 2 + turned2];
    const share = va / (va + vb);
    const mm: SpotMm = [
      first.mm[0] + share * (at[0] - first.mm[0]),
      first.mm[1] + share * (at[1] - first.mm[1]),
    ];
    return {
      spot: first.spot,
      mm,
      px: sheetToPhoto(fits.first, spotToSheet(fits.first, first.spot, mm)),
      // Two that differ by more than they say know less than they say.
      sdMm: Math.sqrt(((va * vb) / (va + vb)) * Math.max(1, chi2 / DIFFERS_CHI2)),
      turnSdMm: first.turnSdMm,
      probability: logistic(
        logit(first.probability) + logit(second.probability) + Math.log(SEEN_TWICE),
      ),
      places: [first, second],
      onlySecond: false,
    };
  });
  const onlyFirst = a
    .filter((place) => !matches.some((match) => match.first === place))
    .map((place): Joined => {
      const { spot, mm, px, sdMm, turnSdMm } = place;
      const back = turnedBack(overlay, mm);
      const probability = seenOnce(place, isShown(fits.second, spot, back));
      return { spot, mm, px, sdMm, turnSdMm, probability, places: [place], onlySecond: false };
    });
  const onlySecond = b
    .filter((place) => !matches.some((match) => match.second === place))
    .map((place): Joined => {
      const mm = toFirst(place.mm);
      const distance = Math.hypot(...mm);
      const upSd = (fits.first.upSdDeg * Math.PI) / 180;
      return {
        spot: place.spot,
        mm,
        px: null,
        sdMm: Math.hypot(place.sdMm, (distance * turnSd) / Math.SQRT2),
        turnSdMm: (distance * upSd) / Math.SQRT2,
        probability: seenOnce(place, isShown(fits.first, place.spot, mm)),
        places: [place],
        onlySecond: true,
      };
    });
  return [...both, ...onlyFirst, ...onlySecond];
}

/** Squared sigmas, on both axes together, from which on two photos are taken to differ. */
const DIFFERS_CHI2 = 6;

function turnedBack({ turnDeg }: Overlay, [x, y]: SpotMm): SpotMm {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  return [x * c + y * s, y * c - x * s];
}

/** Whether a place of the face lies within a photo. */
function isShown(fit: FaceFit, spot: number, mm: SpotMm): boolean {
  const [x, y] = sheetToPhoto(fit, spotToSheet(fit, spot, mm));
  return x > 0 && y > 0 && x < fit.photoSize[0] && y < fit.photoSize[1];
}

function seenOnce({ probability }: Place, shownInOther: boolean): number {
  return shownInOther ? logistic(logit(probability) + Math.log(SEEN_ONCE)) : probability;
}

/** Standing arrows of either photo; where arrows stand, holes are old. */
function standingOf(joined: readonly Joined[], expected: number | undefined): Mark[] {
  const arrows = joined.filter(
    ({ places }) =>
      places.some(({ what }) => what === 'arrow') ||
      (places.length === 2 && places.every(({ what }) => what === 'perhaps')),
  );
  const own = likeliest(arrows, expected);
  const holes = joined.filter(
    (place) => !own.includes(place) && !place.onlySecond && place.places[0]!.what === 'hole',
  );
  return [
    ...own.map((place) => markOf(place, 'standing', 'fresh')),
    ...holes.map(({ places: [hole] }): Mark => ({ ...hole!.mark!, age: 'old' })),
  ];
}

/** Holes of either photo: with the arrows counted the likeliest are this end's. */
function holesOf(joined: readonly Joined[], expected: number | undefined): Mark[] {
  const holes = joined.filter(({ places }) => places.some(({ what }) => what === 'hole'));
  const own = expected === undefined ? [] : likeliest(holes, expected);
  return holes
    .map((place) => {
      const agreed = expected === undefined ? ageOf(place) : own.includes(place) ? 'fresh' : 'old';
      return { place, mark: markOf(place, 'hole', agreed) };
    })
    .filter(({ place, mark }) => mark.age !== 'old' || !place.onlySecond)
    .map(({ mark }) => mark)
    .sort((p, q) => AGES.indexOf(p.age) - AGES.indexOf(q.age) || q.confidence - p.confidence);
}

const AGES: readonly MarkAge[] = ['fresh', 'unknown', 'old'];

/** What the photos say of a hole's age, where they do not contradict one another. */
function ageOf({ places }: Joined): MarkAge {
  const said = new Set(
    places.flatMap(({ mark }) => (mark && mark.age !== 'unknown' ? [mark.age] : [])),
  );
  return said.size === 1 ? [...said][0]! : 'unknown';
}

function likeliest(places: readonly Joined[], expected: number | undefined): Joined[] {
  const least = expected === undefined ? MARK : EXPECTED_MARK;
  const likely = places
    .filter(({ probability }) => probability >= least)
    .sort((p, q) => q.probability - p.probability);
  return likely.slice(0, expected ?? likely.length);
}

function markOf(place: Joined, state: Mark['state'], age: MarkAge): Mark {
  const { spot, mm, px, sdMm, turnSdMm, places, onlySecond } = place;
  const seen = places.flatMap(({ mark }) => mark ?? []);
  // What each photo alone would say of the mark goes with the one that shows it best.
  const best = seen.find((mark) => mark.state === state) ?? seen[0];
  const notes = seen.map((mark) => mark.note);
  const note = onlySecond
    ? ONLY_SECOND[state]
    : notes.length === places.length && notes.every(Boolean)
      ? notes[0]
      : undefined;
  const confidence =
    age === 'old' ? Math.max(0, ...seen.map((mark) => mark.confidence)) : place.probability;
  return {
    ...best,
    id: '',
    spot,
    mm,
    px,
    sdMm: Math.hypot(sdMm, turnSdMm),
    radialSdMm: sdMm,
    state,
    age,
    kind: kindOf(seen),
    confidence,
    note,
  };
}

const ONLY_SECOND: Record<Mark['state'], string> = {
  standing: ENGLISH.say('Only the second photo shows where this arrow enters.'),
  hole: ENGLISH.say('Only the second photo shows this hole.'),
};

/** The kind that either photo shows; unknown where they contradict one another. */
function kindOf(seen: readonly Mark[]): ArrowKind {
  const kinds = new Set(seen.map((mark) => mark.kind).filter((kind) => kind !== 'unknown'));
  return kinds.size === 1 ? [...kinds][0]! : 'unknown';
}

/** What was not counted, as far as it can be shown on the first photo. */
function uncountedOf(
  joined: readonly Joined[],
  marks: readonly Mark[],
  { fit }: ViewOfEnd,
): UncountedPlace[] {
  const counted = new Set(marks.map(({ mm }) => mm));
  return joined
    .filter(({ mm, places }) => !counted.has(mm) && places.every(({ what }) => what !== 'hole'))
    .map(({ spot, mm, px, sdMm, turnSdMm, probability }) => ({
      spot,
      mm,
      px: px ?? sheetToPhoto(fit, spotToSheet(fit, spot, mm)),
      sdMm: Math.hypot(sdMm, turnSdMm),
      radialSdMm: sdMm,
      probability,
    }))
    .sort((p, q) => q.probability - p.probability);
}

function shortfall(found: number, expected: number | undefined): string[] {
  if (expected === undefined || found >= expected) return [];
  return [foundTooFew(expected, found, 'both photos')];
}

function turnTold({ turnDeg }: Overlay, a: FaceFit, b: FaceFit): string[] {
  const apart = Math.abs(turnDeg);
  if (apart < Math.max(TOLD_TURN_DEG, 2 * Math.hypot(a.upSdDeg, b.upSdDeg))) return [];
  return [
    ENGLISH.say(
      "The two photos differ by {degrees} degrees on which way is up; the first one's counts. Check it before you read high, low, left or right.",
      { degrees: apart.toFixed(0) },
    ),
  ];
}

function logit(p: number): number {
  const held = Math.min(0.98, Math.max(0.02, p));
  return Math.log(held / (1 - held));
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}
