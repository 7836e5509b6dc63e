import type { FlatFace } from '../../fit/flat/flatten.ts';
import type { EvidenceMaps } from './evidence-maps.ts';
import { fillPlanes, INPUT_PLANES, type PlanesContext } from './network-planes.ts';
import type { NetworkSession } from './network-session.ts';
import { oneAtATime } from './one-at-a-time.ts';

/** Evidence of holes and standing arrows on a flat face, by the trained network. */
export interface MarkNetwork {
  /**
   * Reads a flat face. It should be made at a scale where the shaft spans 5 to 12 flat pixels, 10 being
   * best on photos of our own. Runs are done one at a time; working memory is that of one tile,
   * whatever the face. Faces are looked over coarsely first where that is quicker, then closely where
   * something was seen of a mark.
   */
  readonly evidence: (flat: FlatFace, context: PlanesContext) => Promise<EvidenceMaps>;
  readonly release: () => Promise<void>;
}

/** Flat pixels per output cell at the network's own scale. */
const STRIDE = 2;

/** The network halves its picture five times. */
const SIDE_STEP = 32;
/** Network pixels around what is kept of a tile that only serve as context, at least. */
const RIM = 24;
/** Most network pixels read at once; bounds the working memory. */
const MOST_PX = 704 ** 2;
/** Cores of tiles that are chosen closely, cells: small enough to leave out much. */
const CLOSE_CORE = 104;

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

/** A rectangle of cells that is kept of what the network reads at once. */
interface Tile {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

function tilesOver({ width, height }: EvidenceMaps, core: readonly [number, number]): Tile[] {
  const tiles: Tile[] = [];
  for (let row = 0; row < height; row += core[1]) {
    for (let column = 0; column < width; column += core[0]) {
      const columns = Math.min(core[0], width - column);
      tiles.push({ column, row, columns, rows: Math.min(core[1], height - row) });
    }
  }
  return tiles;
}

/** Tiles over the whole of maps: of all ways to part both sides evenly the one with fewest pixels. */
function evenTilesOver(maps: EvidenceMaps): Tile[] {
  const most = Math.ceil(Math.max(maps.width, maps.height) / CLOSE_CORE);
  const parts = Array.from({ length: most }, (_, i) => i + 1);
  const ways = parts.flatMap((across) =>
    parts.map((down) =>
      tilesOver(maps, [Math.ceil(maps.width / across), Math.ceil(maps.height / down)]),
    ),
  );
  return ways
    .filter((tiles) => tiles.every(fits))
    .reduce((best, tiles) => (totalPx(tiles) < totalPx(best) ? tiles : best));
}

/** Sides of what the network reads for so many cells and their rim, network pixels. */
function sideFor(cells: number): number {
  return Math.ceil((cells * STRIDE + 2 * RIM) / SIDE_STEP) * SIDE_STEP;
}

function pxOf({ columns, rows }: Tile): number {
  return sideFor(columns) * sideFor(rows);
}

function totalPx(tiles: readonly Tile[]): number {
  return tiles.reduce((sum, tile) => sum + pxOf(tile), 0);
}

/**
 * Neighbours joined into rectangles that are read at once, since each rim is read besides: tiles of a
 * row first, then rectangles of the same columns.
 *
 * @param tiles Row by row.
 */
function joined(tiles: readonly Tile[]): Tile[] {
  const rowsOfTiles = joinedBy(tiles, (left, right) =>
    left.row === right.row && left.column + left.columns === right.column
      ? { ...left, columns: left.columns + right.columns }
      : null,
  );
  return joinedBy(rowsOfTiles, (above, below) =>
    above.column === below.column &&
    above.columns === below.columns &&
    above.row + above.rows === below.row
      ? { ...above, rows: above.rows + below.rows }
      : null,
  );
}

/** @param both The rectangle of two tiles, null where they make none. */
function joinedBy(
  tiles: readonly Tile[],
  both: (first: Tile, second: Tile) => Tile | null,
): Tile[] {
  const kept: Tile[] = [];
  for (const tile of tiles) {
    const larger = kept.map((earlier) => both(earlier, tile));
    const at = larger.findIndex((one) => one !== null && fits(one));
    if (at < 0) kept.push(tile);
    else kept[at] = larger[at]!;
  }
  return kept;
}

function fits(tile: Tile): boolean {
  return pxOf(tile) <= MOST_PX;
}

/** Serves evidence from a loaded network: evidence planes (1, 7, height / 2, width / 2) of each tile. */
export function createMarkNetwork(session: NetworkSession): MarkNetwork {
  const room = new Float32Array(INPUT_PLANES * MOST_PX);
  /** Reads tiles of `maps`. */
  async function read(
    maps: Maps,
    tiles: readonly Tile[],
    flat: FlatFace,
    context: PlanesContext,
  ): Promise<void> {
    const pxPerStep = maps.pxPerCell / STRIDE;
    const rim = RIM / STRIDE;
    for (const tile of tiles) {
      const [width, height] = [sideFor(tile.columns), sideFor(tile.rows)];
      const planes = room.subarray(0, INPUT_PLANES * width * height);
      fillPlanes(planes, flat, context, {
        leftPx: tile.column * maps.pxPerCell - RIM * pxPerStep,
        topPx: tile.row * maps.pxPerCell - RIM * pxPerStep,
        width,
        height,
        pxPerStep,
      });
      const values = await session.run(planes, [1, INPUT_PLANES, height, width]);
      const stride = width / STRIDE;
      for (const name of OUTPUTS) {
        const plane = (PLANES[name] * stride * height) / STRIDE;
        for (let row = 0; row < tile.rows; row++) {
          const from = plane + (row + rim) * stride + rim;
          const to = (tile.row + row) * maps.width + tile.column;
          maps[name].set(values.subarray(from, from + tile.columns), to);
        }
      }
      for (let row = 0; row < tile.rows; row++) {
        const to = (tile.row + row) * maps.width + tile.column;
        maps.lookedClosely.fill(1, to, to + tile.columns);
      }
    }
  }

  async function evidence(flat: FlatFace, context: PlanesContext): Promise<EvidenceMaps> {
    const { width, height } = flat.raster;
    const close = emptyMaps(Math.ceil(width / STRIDE), Math.ceil(height / STRIDE), STRIDE);
    const pxPerStep = context.shaftMm / flat.mmPerPx / COARSE_SHAFT_PX;
    const everywhere = evenTilesOver(close);
    if (pxPerStep < LEAST_PX_PER_STEP) {
      await read(close, everywhere, flat, context);
      return close;
    }
    const coarseCell = STRIDE * pxPerStep;
    const coarse = emptyMaps(
      Math.ceil(width / coarseCell),
      Math.ceil(height / coarseCell),
      coarseCell,
    );
    await read(coarse, evenTilesOver(coarse), flat, context);
    const wanted = joined(
      tilesOver(close, [CLOSE_CORE, CLOSE_CORE]).filter((tile) => sawSomething(coarse, tile)),
    );
    if (totalPx(wanted) >= totalPx(everywhere)) {
      await read(close, everywhere, flat, context);
      return close;
    }
    copyCoarse(coarse, close);
    await read(close, wanted, flat, context);
    return close;
  }

  return {
    evidence: oneAtATime(evidence),
    release: () => session.release(),
  };
}

/** Whether the coarse look saw anything of a mark within a close tile. */
function sawSomething(coarse: Maps, tile: Tile): boolean {
  const perCell = STRIDE / coarse.pxPerCell;
  const left = Math.max(0, Math.floor(tile.column * perCell) - 1);
  const top = Math.max(0, Math.floor(tile.row * perCell) - 1);
  const right = Math.min(coarse.width, Math.ceil((tile.column + tile.columns) * perCell) + 1);
  const bottom = Math.min(coarse.height, Math.ceil((tile.row + tile.rows) * perCell) + 1);
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
