import type { SpotMm } from '../../face/coordinates.ts';

/** A place on a spot that may be a hole. */
export interface HoleCandidate {
  readonly spot: number;
  readonly mm: SpotMm;
  /** One-sigma uncertainty of the position per axis on the flat face, mm; the fit's comes on top. */
  readonly sdMm: number;
  /** Probability of being a hole at all. */
  readonly probability: number;
  /** How much it looks like a hole made last, as log-odds up to a constant of the photo. */
  readonly freshness: number;
}
