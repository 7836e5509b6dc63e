import type { FlatFace } from '../../fit/flat/flatten.ts';
import { CORE, type EntryMaps } from '../network/entry-network.ts';
import type { EvidenceMaps } from '../network/evidence-maps.ts';

/**
 * What may be the shafts of standing arrows, on cells of a flat face: lengths and places in cells,
 * the centre of the first one (0.5, 0.5), y down.
 */
export interface ShaftMap {
  readonly width: number;
  readonly height: number;
  readonly pxPerCell: number;
  /** A shaft's diameter. */
  readonly shaft: number;
  /** Probability of showing a shaft, or the middle part of its width. */
  readonly covered: Float32Array;
  /** Part of a shaft's width that `covered` shows, about its middle line. */
  readonly part: number;
  /** Heat of entries, 0 to 1; nothing where nobody looked for them. */
  readonly entry: Float32Array | null;
  /** Probability of showing a vane. */
  readonly vane: Float32Array | null;
  /** 0 where the photo does not show the face. */
  readonly seen: Uint8Array;
}

/** Whether it shows the cores of shafts, and so tells those that touch. */
export function isOfCores({ part }: ShaftMap): boolean {
  return part < 1;
}

/** The network's evidence of shafts. */
export function shaftMapOfEvidence(maps: EvidenceMaps, flat: FlatFace, shaftMm: number): ShaftMap {
  const { width, height, pxPerCell, entry, vane } = maps;
  return {
    width,
    height,
    pxPerCell,
    shaft: shaftMm / flat.mmPerPx / pxPerCell,
    // An entry is the front end of a shaft, which itself is mirrored paper there as a rule.
    covered: largerOf(maps.shaft, entry),
    part: 1,
    entry,
    vane,
    seen: seenCells(flat, width, height, pxPerCell),
  };
}

/** The entry network's evidence, in which shafts that touch are apart. */
export function shaftMapOfEntries(maps: EntryMaps, flat: FlatFace, shaftMm: number): ShaftMap {
  const { width, height, pxPerCell, core, entry, vane } = maps;
  return {
    width,
    height,
    pxPerCell,
    shaft: shaftMm / flat.mmPerPx / pxPerCell,
    covered: largerOf(core, entry),
    part: CORE,
    entry,
    vane,
    seen: seenCells(flat, width, height, pxPerCell),
  };
}

/** Hand-made evidence of what covers the face: one value of 0 to 1 for each flat pixel. */
export function shaftMapOfBars(bars: Float32Array, flat: FlatFace, shaftMm: number): ShaftMap {
  const side = flat.raster.width;
  const pxPerCell = 2;
  const width = Math.ceil(side / pxPerCell);
  const covered = new Float32Array(width * width);
  for (let row = 0; row < width; row++) {
    for (let column = 0; column < width; column++) {
      const x = Math.min(side - 2, column * pxPerCell);
      const at = Math.min(side - 2, row * pxPerCell) * side + x;
      covered[row * width + column] =
        (bars[at]! + bars[at + 1]! + bars[at + side]! + bars[at + side + 1]!) / 4;
    }
  }
  return {
    width,
    height: width,
    pxPerCell,
    shaft: shaftMm / flat.mmPerPx / pxPerCell,
    covered,
    part: 1,
    entry: null,
    vane: null,
    seen: seenCells(flat, width, width, pxPerCell),
  };
}

function largerOf(a: Float32Array, b: Float32Array): Float32Array {
  const larger = a.slice();
  for (let i = 0; i < larger.length; i++) {
    const other = b[i]!;
    if (other > larger[i]!) larger[i] = other;
  }
  return larger;
}

function seenCells(flat: FlatFace, width: number, height: number, pxPerCell: number): Uint8Array {
  const side = flat.raster.width;
  const seen = new Uint8Array(width * height);
  const columns = Int32Array.from({ length: width }, (_, column) =>
    Math.min(side - 1, Math.floor((column + 0.5) * pxPerCell)),
  );
  for (let row = 0; row < height; row++) {
    const from = Math.min(side - 1, Math.floor((row + 0.5) * pxPerCell)) * side;
    for (let column = 0; column < width; column++) {
      seen[row * width + column] = flat.seen[from + columns[column]!]!;
    }
  }
  return seen;
}

/** Largest value of a map within so many cells of a place. */
export function largestNear(
  { width, height }: Pick<ShaftMap, 'width' | 'height'>,
  map: Float32Array,
  x: number,
  y: number,
  reach: number,
): number {
  let largest = 0;
  const left = Math.max(0, Math.floor(x - reach));
  const right = Math.min(width - 1, Math.floor(x + reach));
  const bottom = Math.min(height - 1, Math.floor(y + reach));
  for (let row = Math.max(0, Math.floor(y - reach)); row <= bottom; row++) {
    for (let column = left; column <= right; column++) {
      largest = Math.max(largest, map[row * width + column]!);
    }
  }
  return largest;
}
