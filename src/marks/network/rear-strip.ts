/** Rows of a strip: across the arrow, its axis in the middle. */
export const STRIP_WIDTH = 64;
/** Strip pixels to the width of a shaft at its rear end. */
export const STRIP_SHAFT_PX = 6;
/** Strip pixels to a step of the network's answer; lengths are multiples. */
export const STRIP_STEP = 4;
/** Input planes of the network; the training's `rear_model.py` describes the same order. */
export const STRIP_PLANES = 4;

/** A picture along the image of an arrow, as the network for rear ends reads it. */
export interface RearStrip {
  /** (STRIP_PLANES, STRIP_WIDTH, lengthPx): colour 0 to 1, foreshortening. */
  readonly planes: Float32Array;
  /** A multiple of STRIP_STEP. */
  readonly lengthPx: number;
}

/** Answers along a strip, one for each STRIP_STEP pixels. */
export interface RearEvidence {
  /** Probability that the shaft whose axis the strip follows ends here. */
  readonly end: Float32Array;
  /** Probability that an arrow that ends here has vanes. */
  readonly fletched: Float32Array;
}
