/**
 * Dense evidence over a flat face, row by row on cells of `pxPerCell` flat pixels: cell (i, j) covers
 * flat pixels i * pxPerCell to (i + 1) * pxPerCell across and the same down, in the frame of
 * `spotToFlat` (centre of the flat face's first pixel (0.5, 0.5)). Every array has `width * height`
 * values.
 */
export interface EvidenceMaps {
  readonly width: number;
  readonly height: number;
  readonly pxPerCell: number;
  /** Heat of hole centres, 0 to 1: a blob of about half a shaft's width round each centre. */
  readonly hole: Float32Array;
  /** Probability that the hole here was made last (crisp, clean, open); of use near holes only. */
  readonly fresh: Float32Array;
  /** Probability of showing a standing arrow's shaft (or a wrap on it); shadows are none. */
  readonly shaft: Float32Array;
  /** Heat of the points where standing shafts enter the paper, 0 to 1. */
  readonly entry: Float32Array;
  /** Probability of showing a vane. */
  readonly vane: Float32Array;
  /** 1 where the flat face was read at its own scale, 0 where a coarser look found nothing. */
  readonly lookedClosely: Uint8Array;
}
