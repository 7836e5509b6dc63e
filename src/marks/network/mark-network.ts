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
   * Reads a flat face. It should be made at a scale where the shaft spans 5 to 12 flat pixels, 8 to
   * 10 where the photo is that fine. Runs one at a time; memory is bounded by the tile, not by the
   * face. Large faces are looked over coarsely first, and closely where something was seen.
   */
  readonly evidence: (flat: FlatFace, context: EvidenceContext) => Promise<EvidenceMaps>;
  readonly release: () => Promise<void>;
}

/** Flat pixels per output cell at the network's own scale. */
const STRIDE = 2;

/** Side of the square that the network reads at once, and the rim that only serves as context. */
const TILE = 384;
const RIM = 32;
const CORE = TILE - 2 * RIM;

/** Faces of up to so many tiles are read closely all over. */
const CLOSE_TILES = 9;

/** Shaft width of the coarse look, network pixels. */
const COARSE_SHAFT_PX = 4.5;

/** A tile is read closely when the coarse look saw at least so much of a mark in it. */
const COARSE_HEAT = 0.06;

const OUTPUTS = [
  'hole',
  'fresh',
  'disc',
  'shaft',
  'entry',
  'vane',
  'nock',
  'towardsEntryX',
  'towardsEntryY',
  'toMarkX',
  'toMarkY',
] as const;

type Maps = { [K in (typeof OUTPUTS)[number]]: Float32Array } & EvidenceMaps;

function emptyMaps(width: number, height: number, pxPerCell: number): Maps {
  const planes = Object.fromEntries(
    OUTPUTS.map((name) => [name, new Float32Array(width * height)]),
  ) as { [K in (typeof OUTPUTS)[number]]: Float32Array };
  return { ...planes, width, height, pxPerCell, lookedClosely: new Uint8Array(width * height) };
}

interface Tile {
  /** First cell of the tile's core. */
  readonly column: number;
  readonly row: number;
}

const CORE_CELLS = CORE / STRIDE;

function tilesOver(width: number, height: number): Tile[] {
  const tiles: Tile[] = [];
  for (let row = 0; row < height; row += CORE_CELLS) {
    for (let column = 0; column < width; column += CORE_CELLS) tiles.push({ column, row });
  }
  return tiles;
}

/** Serves evidence from a loaded network. */
export function createMarkNetwork(session: NetworkSession): MarkNetwork {
  const planes = new Float32Array(INPUT_PLANES * TILE * TILE);
  let last: Promise<unknown> = Promise.resolve();

  /** Reads the tiles of `maps` at `pxPerStep` flat pixels per network pixel. */
  async function read(
    maps: Maps,
    tiles: readonly Tile[],
    flat: FlatFace,
    context: EvidenceContext,
    pxPerStep: number,
  ): Promise<void> {
    const side = TILE / STRIDE;
    const rim = RIM / STRIDE;
    for (const tile of tiles) {
      fillPlanes(planes, flat, context.fit, context.shaftMm, {
        leftPx: tile.column * maps.pxPerCell - RIM * pxPerStep,
        topPx: tile.row * maps.pxPerCell - RIM * pxPerStep,
        side: TILE,
        pxPerStep,
      });
      const values = await session.run(planes, TILE);
      const columns = Math.min(CORE_CELLS, maps.width - tile.column);
      const rows = Math.min(CORE_CELLS, maps.height - tile.row);
      const shaftPx = context.shaftMm / flat.mmPerPx;
      OUTPUTS.forEach((name, plane) => {
        const target = maps[name];
        // Votes come in shaft widths.
        const unit = name === 'toMarkX' || name === 'toMarkY' ? shaftPx : 1;
        for (let row = 0; row < rows; row++) {
          const from = plane * side * side + (row + rim) * side + rim;
          const to = (tile.row + row) * maps.width + tile.column;
          for (let column = 0; column < columns; column++) {
            target[to + column] = values[from + column]! * unit;
          }
        }
      });
      for (let row = 0; row < rows; row++) {
        const to = (tile.row + row) * maps.width + tile.column;
        maps.lookedClosely.fill(1, to, to + columns);
      }
    }
  }

  async function evidence(flat: FlatFace, context: EvidenceContext): Promise<EvidenceMaps> {
    const { width, height } = flat.raster;
    const close = emptyMaps(Math.ceil(width / STRIDE), Math.ceil(height / STRIDE), STRIDE);
    const tiles = tilesOver(close.width, close.height);
    const pxPerStep = context.shaftMm / flat.mmPerPx / COARSE_SHAFT_PX;
    if (tiles.length <= CLOSE_TILES || pxPerStep < 4 / 3) {
      await read(close, tiles, flat, context, 1);
      return close;
    }
    const coarseCell = STRIDE * pxPerStep;
    const coarse = emptyMaps(
      Math.ceil(width / coarseCell),
      Math.ceil(height / coarseCell),
      coarseCell,
    );
    await read(coarse, tilesOver(coarse.width, coarse.height), flat, context, pxPerStep);
    const wanted = tiles.filter((tile) => sawSomething(coarse, tile));
    copyCoarse(coarse, close);
    await read(close, wanted, flat, context, 1);
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
  const right = Math.min(coarse.width, Math.ceil((tile.column + CORE_CELLS) * perCell) + 1);
  const bottom = Math.min(coarse.height, Math.ceil((tile.row + CORE_CELLS) * perCell) + 1);
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
  for (const name of OUTPUTS) {
    const source = coarse[name];
    const target = close[name];
    for (let row = 0; row < close.height; row++) {
      const from = Math.min(coarse.height - 1, Math.floor((row + 0.5) * perCell)) * coarse.width;
      for (let column = 0; column < close.width; column++) {
        const i = Math.min(coarse.width - 1, Math.floor((column + 0.5) * perCell));
        target[row * close.width + column] = source[from + i]!;
      }
    }
  }
}
