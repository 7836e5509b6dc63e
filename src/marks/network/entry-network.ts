import type { FlatFace } from '../../fit/flat/flatten.ts';
import { fillPlanes, INPUT_PLANES, type PlanesContext } from './network-planes.ts';
import type { NetworkSession } from './network-session.ts';
import { oneAtATime } from './one-at-a-time.ts';

/** Dense evidence of standing arrows over a part of a flat face; cells as those of `EvidenceMaps`. */
export interface EntryMaps {
  readonly width: number;
  readonly height: number;
  readonly pxPerCell: number;
  /** Probability of showing the core of a shaft, the middle half of its width: it parts shafts that touch. */
  readonly core: Float32Array;
  /** Heat of the points where standing shafts enter the paper, 0 to 1. */
  readonly entry: Float32Array;
  /** Probability of showing a vane. */
  readonly vane: Float32Array;
}

/** Tells bunched arrows apart where a look over the whole face saw shafts. */
export interface EntryNetwork {
  /**
   * Reads a part of a flat face. It should be made at a scale where the shaft spans about `SHAFT_PX`
   * flat pixels, however coarse the photo is. Memory is that of the whole part.
   */
  readonly evidence: (flat: FlatFace, context: PlanesContext) => Promise<EntryMaps>;
  readonly release: () => Promise<void>;
}

/** Part of a shaft's width that its core is. */
export const CORE = 0.5;
/** Width of a shaft at which the network sees best, flat pixels. */
export const SHAFT_PX = 10;

/** Flat pixels per cell of what it answers. */
const STRIDE = 2;
/** The network halves its picture five times. */
const SIDE_STEP = 32;
/** Pixels around the part that only serve as context, at least. */
const RIM = 16;
/** The network's planes by their order; the first, whole shafts, is there to teach it. */
const PLANES = { core: 1, entry: 2, vane: 3 } as const;

/** Serves evidence from a loaded network. */
export function createEntryNetwork(session: NetworkSession): EntryNetwork {
  async function evidence(flat: FlatFace, context: PlanesContext): Promise<EntryMaps> {
    const cells = Math.ceil(flat.raster.width / STRIDE);
    const side = Math.ceil((cells * STRIDE + 2 * RIM) / SIDE_STEP) * SIDE_STEP;
    const planes = new Float32Array(INPUT_PLANES * side * side);
    fillPlanes(planes, flat, context, {
      leftPx: -RIM,
      topPx: -RIM,
      width: side,
      height: side,
      pxPerStep: 1,
    });
    const values = await session.run(planes, [1, INPUT_PLANES, side, side]);
    const stride = side / STRIDE;
    const rim = RIM / STRIDE;
    const map = (plane: number): Float32Array => {
      const kept = new Float32Array(cells * cells);
      for (let row = 0; row < cells; row++) {
        const from = plane * stride * stride + (row + rim) * stride + rim;
        kept.set(values.subarray(from, from + cells), row * cells);
      }
      return kept;
    };
    return {
      width: cells,
      height: cells,
      pxPerCell: STRIDE,
      core: map(PLANES.core),
      entry: map(PLANES.entry),
      vane: map(PLANES.vane),
    };
  }

  return {
    evidence: oneAtATime(evidence),
    release: () => session.release(),
  };
}
