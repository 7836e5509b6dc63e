import type { PhotoPx, SpotMm } from '../face/coordinates.ts';

export type MarkState = 'hole' | 'standing';
export type MarkAge = 'fresh' | 'old' | 'unknown';
export type ArrowKind = 'fletched' | 'bare' | 'unknown';

/**
 * What a mark's kind rests on: vanes that were seen, a person who said so, only one kind having been
 * shot, or a guess from the pattern of hits.
 */
export type KindFrom = 'vanes' | 'person' | 'count' | 'pattern';

/** One arrow's trace on the face: where the axis of its shaft meets the paper. */
export interface Mark {
  readonly id: string;
  readonly spot: number;
  readonly mm: SpotMm;
  /** In the photo that was read, the first of two; null where only the second shows the mark. */
  readonly px: PhotoPx | null;
  /** One-sigma uncertainty of the position per axis, mm. */
  readonly sdMm: number;
  /**
   * One-sigma uncertainty of the distance from the spot's centre, mm, which line calls rest on: not
   * knowing which way is up turns all marks about the centre and moves none across a line.
   * @default sdMm
   */
  readonly radialSdMm?: number | undefined;
  readonly state: MarkState;
  readonly age: MarkAge;
  /** A suggestion until a person confirms it. */
  readonly kind: ArrowKind;
  /** Null while the kind is unknown. @default not said: the kind counts as told */
  readonly kindFrom?: KindFrom | null | undefined;
  /** Probability that this is a mark of this end (`age` fresh) or, for old ones, a mark at all. */
  readonly confidence: number;
  /** As written on the shaft. @default not said */
  readonly arrowNumber?: string | undefined;
  /** What a person should know of this mark, when there is something. */
  readonly note?: string | undefined;
}

/** Value by the line rule, with the probability that the neighbouring value is the right one. */
export interface ScoredMark extends Mark {
  readonly zone: number;
  readonly inner: boolean;
  readonly lineCall: { readonly zone: number; readonly p: number } | null;
}
