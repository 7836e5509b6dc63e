import type { FaceFit } from '../../fit/face-fit.ts';
import type { FlatFace } from '../../fit/flatten.ts';
import type { EvidenceMaps } from './evidence-maps.ts';
import { fillPlanes, INPUT_PLANES } from './network-planes.ts';
import type { NetworkSession } from './network-session.ts';

export interface EvidenceContext {
  readonly fit: FaceFit;
  readonly shaftMm: number;
}

/** Evidence of holes and standing arrows on a flat face, by the trained network. */
export interface MarkNetwork {
  /**
   * Reads a flat face. It should be made at a scale where the shaft spans 5 to 12 flat pixels, 10 being
   * best on photos of our own. Runs are done one at a time; working memory is that of one tile,
   * whatever the face. Faces are looked over coarsely first where that is quicker, then closely where
   * something was seen of a mark.
   */
  readonly evidence: (flat: FlatFace, context: EvidenceContext) => Promise<EvidenceMaps>;
  readonly release: () => Promise<void>;
}

/** Flat pixels per output cell at the network's own scale. */
const STRIDE = 2;

/** A square that the network reads at once; its outer rim only serves as context. */
interface TileShape {
  /** Sides in network pixels. */
  readonly side: number;
  readonly rim: number;
  /** Side of what is kept, in cells. */
  readonly coreCells: number;
}

function tileShape(side: number, rim: number): TileShape {
  return { side, rim, coreCells: (side - 2 * rim) / STRIDE };
}

/** The network halves its picture five times. */
const SIDE_STEP = 32;
const RIM = 24;
const LONGEST_SIDE = 704;

/** Small tiles can be chosen closely. */
const CLOSE = tileShape(256, RIM);

/** Tiles to read maps all over: the fewest that fit, and no bigger than they need be. */
function wholeShape({ width, height }: EvidenceMaps): TileShape {
  const longest = Math.max(width, height) * STRIDE;
  const count = Math.ceil(longest / (LONGEST_SIDE - 2 * RIM));
  const side = Math.ceil((longest / count + 2 * RIM) / SIDE_STEP) * SIDE_STEP;
  return tileShape(side, RIM);
}

/** A coarse look pays when it takes less than half of the pixels of a close one. */
const LEAST_PX_PER_STEP = Math.SQRT2;

/** Shaft width of the coarse look, network pixels. */
const COARSE_SHAFT_PX = 4.25;

/** A tile is read closely when the coarse look saw at least so much of a mark in it. */
const COARSE_HEAT = 0.12;

/**
 * The network's planes by their order; two, the disc that a shaft cuts out and the nocks, are there to
 * teach it and serve no step.
 */
const PLANES = { hole: 0, fresh: 1, shaft: 3, entry: 4, vane: 5 } as const;
const OUTPUTS = Object.keys(PLANES) as (keyof typeof PLANES)[];

type Maps = Record<keyof typeof PLANES, Float32Array> & EvidenceMaps;

function emptyMaps(width: number, height: number, pxPerCell: number): Maps {
  const planes = Object.fromEntries(
    OUTPUTS.map((name) => [name, new Float32Array(width * height)]),
  ) as Record<keyof typeof PLANES, Float32Array>;
  return { ...planes, width, height, pxPerCell, lookedClosely: new Uint8Array(width * height) };
}

interface Tile {
  /** First cell of the tile's core. */
  readonly column: number;
  readonly row: number;
}

function tilesOver({ width, height }: EvidenceMaps, { coreCells }: TileShape): Tile[] {
  const tiles: Tile[] = [];
  for (let row = 0; row < height; row += coreCells) {
    for (let column = 0; column < width; column += coreCells) tiles.push({ column, row });
  }
  return tiles;
}

/** Serves evidence from a loaded network: evidence planes (1, 7, side / 2, side / 2) of each tile. */
export function createMarkNetwork(session: NetworkSession): MarkNetwork {
  const room = new Float32Array(INPUT_PLANES * LONGEST_SIDE ** 2);
  let last: Promise<unknown> = Promise.resolve();

  /** Reads the tiles of `maps` at `pxPerStep` flat pixels per network pixel. */
  async function read(
    maps: Maps,
    tiles: readonly Tile[],
    shape: TileShape,
    flat: FlatFace,
    context: EvidenceContext,
  ): Promise<void> {
    const planes = room.subarray(0, INPUT_PLANES * shape.side ** 2);
    const pxPerStep = maps.pxPerCell / STRIDE;
    const side = shape.side / STRIDE;
    const rim = shape.rim / STRIDE;
    for (const tile of tiles) {
      fillPlanes(planes, flat, context.fit, context.shaftMm, {
        leftPx: tile.column * maps.pxPerCell - shape.rim * pxPerStep,
        topPx: tile.row * maps.pxPerCell - shape.rim * pxPerStep,
        side: shape.side,
        pxPerStep,
      });
      const values = await session.run(planes, [1, INPUT_PLANES, shape.side, shape.side]);
      const columns = Math.min(shape.coreCells, maps.width - tile.column);
      const rows = Math.min(shape.coreCells, maps.height - tile.row);
      for (const name of OUTPUTS) {
        for (let row = 0; row < rows; row++) {
          const from = PLANES[name] * side * side + (row + rim) * side + rim;
          const to = (tile.row + row) * maps.width + tile.column;
          maps[name].set(values.subarray(from, from + columns), to);
        }
      }
      for (let row = 0; row < rows; row++) {
        const to = (tile.row + row) * maps.width + tile.column;
        maps.lookedClosely.fill(1, to, to + columns);
      }
    }
  }

  async function evidence(flat: FlatFace, context: EvidenceContext): Promise<EvidenceMaps> {
    const { width, height } = flat.raster;
    const close = emptyMaps(Math.ceil(width / STRIDE), Math.ceil(height / STRIDE), STRIDE);
    const pxPerStep = context.shaftMm / flat.mmPerPx / COARSE_SHAFT_PX;
    const whole = wholeShape(close);
    const everywhere = tilesOver(close, whole);
    if (pxPerStep < LEAST_PX_PER_STEP) {
      await read(close, everywhere, whole, flat, context);
      return close;
    }
    const coarseCell = STRIDE * pxPerStep;
    const coarse = emptyMaps(
      Math.ceil(width / coarseCell),
      Math.ceil(height / coarseCell),
      coarseCell,
    );
    const shape = wholeShape(coarse);
    await read(coarse, tilesOver(coarse, shape), shape, flat, context);
    const wanted = tilesOver(close, CLOSE).filter((tile) => sawSomething(coarse, tile));
    if (wanted.length * CLOSE.side ** 2 >= everywhere.length * whole.side ** 2) {
      await read(close, everywhere, whole, flat, context);
      return close;
    }
    copyCoarse(coarse, close);
    await read(close, wanted, CLOSE, flat, context);
    return close;
  }

  return {
    evidence: (flat, context) => {
      const mine = last.then(() => evidence(flat, context));
      last = mine.catch(() => undefined);
      return mine;
    },
    release: () => session.release(),
  };
}

/** Whether the coarse look saw anything of a mark within a close tile. */
function sawSomething(coarse: Maps, tile: Tile): boolean {
  const perCell = STRIDE / coarse.pxPerCell;
  const left = Math.max(0, Math.floor(tile.column * perCell) - 1);
  const top = Math.max(0, Math.floor(tile.row * perCell) - 1);
  const right = Math.min(coarse.width, Math.ceil((tile.column + CLOSE.coreCells) * perCell) + 1);
  const bottom = Math.min(coarse.height, Math.ceil((tile.row + CLOSE.coreCells) * perCell) + 1);
  for (let row = top; row < bottom; row++) {
    for (let column = left; column < right; column++) {
      const at = row * coarse.width + column;
      if (coarse.hole[at]! > COARSE_HEAT || coarse.entry[at]! > COARSE_HEAT) return true;
    }
  }
  return false;
}

/** Fills close maps with the nearest coarse cells, for where nobody looks closely. */
function copyCoarse(coarse: Maps, close: Maps): void {
  const perCell = close.pxPerCell / coarse.pxPerCell;
  const nearest = Int32Array.from({ length: close.width }, (_, column) =>
    Math.min(coarse.width - 1, Math.floor((column + 0.5) * perCell)),
  );
  for (const name of OUTPUTS) {
    const source = coarse[name];
    const target = close[name];
    let copied = -1;
    for (let row = 0; row < close.height; row++) {
      const from = Math.min(coarse.height - 1, Math.floor((row + 0.5) * perCell)) * coarse.width;
      const to = row * close.width;
      if (from === copied) {
        target.copyWithin(to, to - close.width, to);
        continue;
      }
      copied = from;
      for (let column = 0; column < close.width; column++) {
        target[to + column] = source[from + nearest[column]!]!;
      }
    }
  }
}
