import type { PhotoPx, SpotMm } from '../face/coordinates.ts';
import type { FoundMarks, UncountedPlace } from '../marks/find-marks.ts';
import type { Mark } from '../marks/mark.ts';

/** What a photo shows at one place, as far as joining two photos needs it. */
export interface Place {
  readonly spot: number;
  readonly mm: SpotMm;
  /** One-sigma uncertainty per axis, mm, but for the turn about the spot's centre. */
  readonly sdMm: number;
  /** One-sigma uncertainty that the photo's own "up" adds to it. */
  readonly turnSdMm: number;
  readonly px: PhotoPx;
  readonly what: 'arrow' | 'hole' | 'perhaps';
  /** Probability of an arrow of this end having made it, by this photo alone. */
  readonly probability: number;
  /** The mark that it was taken for; null for what was not counted. */
  readonly mark: Mark | null;
}

/** Weaker evidence than this is chaff. */
const LEAST = 0.1;
/** Where arrows stand, a hole may be an entry that was not seen as one: it says nothing of it. */
const HOLE_IS_ENTRY = 0.5;

/** All places of a photo where an arrow of this end may have hit. */
export function placesOf({ marks, uncounted }: Pick<FoundMarks, 'marks' | 'uncounted'>): Place[] {
  const standing = marks.some((mark) => mark.state === 'standing');
  return [
    ...marks.flatMap((mark): Place[] => {
      if (!mark.px) return [];
      const at = placed(mark, mark.px);
      if (mark.state === 'standing') {
        return [{ ...at, what: 'arrow', probability: mark.confidence, mark }];
      }
      const probability = standing ? HOLE_IS_ENTRY : OF_THIS_END[mark.age] * mark.confidence;
      return [{ ...at, what: 'hole', probability, mark }];
    }),
    ...uncounted
      .filter(({ probability }) => probability >= LEAST)
      .map((place): Place => ({
        ...placed(place, place.px),
        what: 'perhaps',
        probability: place.probability,
        mark: null,
      })),
  ];
}

/** How far a hole's age speaks for this end. */
const OF_THIS_END: Record<Mark['age'], number> = { fresh: 1, unknown: 0.5, old: 0.1 };

function placed(
  {
    spot,
    mm,
    sdMm,
    radialSdMm,
  }: Pick<Mark | UncountedPlace, 'spot' | 'mm' | 'sdMm' | 'radialSdMm'>,
  px: PhotoPx,
): Pick<Place, 'spot' | 'mm' | 'sdMm' | 'turnSdMm' | 'px'> {
  const own = Math.min(sdMm, radialSdMm ?? sdMm);
  return { spot, mm, px, sdMm: own, turnSdMm: Math.sqrt(sdMm ** 2 - own ** 2) };
}

/** Two fits of one face differ by what each says of itself, and by this share of the distance. */
const SCALE_SD = 0.002;
/** No two photos place a mark more alike than this, mm. */
const LEAST_SD_MM = 0.2;

/** Variance per axis of how far two images of one mark lie apart, mm^2. */
export function spread2(a: Place, b: Place, turnSd: number): number {
  const distance2 = a.mm[0] ** 2 + a.mm[1] ** 2;
  return a.sdMm ** 2 + b.sdMm ** 2 + LEAST_SD_MM ** 2 + distance2 * (turnSd ** 2 + SCALE_SD ** 2);
}
