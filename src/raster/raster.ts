/** A picture in memory: rows of RGBA bytes, top-left first, as canvases and decoders hand them out. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  /** width * height * 4 bytes, sRGB, alpha ignored. */
  readonly data: Uint8Array | Uint8ClampedArray;
}
