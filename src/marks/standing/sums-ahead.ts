import type { ShaftMap } from './shaft-map.ts';

/** Cells of a line are looked at, or left alone, so many at a time. */
const BLOCK = 16;

/** Sums along one direction over the cells of a map, which lie line by line. */
export interface SumsAhead {
  readonly sums: Float32Array;
  /** Whether a line of `sums` is a row of the map; else it is a column. */
  readonly byRows: boolean;
  /** Number of lines, and of cells in each. */
  readonly lines: number;
  readonly cells: number;
  /** Blocks of a line; for each block of each line 1 where sums are not all 0. */
  readonly blocks: number;
  readonly live: Uint8Array;
  /** Place in `sums` of a cell of the map. */
  readonly at: (x: number, y: number) => number;
}

/** A map's cells line by line, for directions that run across its lines. */
interface Lines extends SumsAhead {
  readonly core: Float32Array;
  /** For each block of each line 1 where something is above a half. */
  readonly covered: Uint8Array;
}

/**
 * What finds for each cell the sum of `core` less a half along a line ahead, as far as it pays. Most of
 * a map is bare, where no sum is above 0: there nothing is looked at.
 *
 * @param core One value of 0 to 1 for each cell.
 * @returns a function of the direction of the line, radians, y down, and of what a cell further on counts
 *   less for each cell's length, 1 for all alike; what it hands out holds until it is called again
 */
export function sumsAhead(
  { width, height }: Pick<ShaftMap, 'width' | 'height'>,
  core: Float32Array,
): (angle: number, horizon: number) => SumsAhead {
  const rows = linesOf(core, height, width, true);
  let columns: Lines | null = null;
  return (angle, horizon) => {
    const ux = Math.cos(angle);
    const uy = Math.sin(angle);
    if (Math.abs(uy) >= Math.abs(ux)) return summed(rows, uy, ux, horizon);
    columns ??= linesOf(transposed(core, width, height), width, height, false);
    return summed(columns, ux, uy, horizon);
  };
}

/** Calls `visit` with the first place, and that after the last, of every stretch in which sums may be above 0. */
export function eachLive(
  { lines, cells, blocks, live }: SumsAhead,
  visit: (from: number, to: number) => void,
): void {
  for (let line = 0, block = 0; line < lines; line++) {
    for (let b = 0; b < blocks; b++, block++) {
      if (!live[block]) continue;
      const from = line * cells + b * BLOCK;
      visit(from, Math.min(from + BLOCK, (line + 1) * cells));
    }
  }
}

function transposed(core: Float32Array, width: number, height: number): Float32Array {
  const out = new Float32Array(core.length);
  for (let y = 0, at = 0; y < height; y++) {
    for (let x = 0, to = y; x < width; x++, at++, to += height) out[to] = core[at]!;
  }
  return out;
}

function linesOf(core: Float32Array, lines: number, cells: number, byRows: boolean): Lines {
  const blocks = Math.ceil(cells / BLOCK);
  const covered = new Uint8Array(lines * blocks);
  for (let line = 0, at = 0; line < lines; line++) {
    for (let cell = 0; cell < cells; cell++, at++) {
      if (core[at]! > 0.5) covered[line * blocks + ((cell / BLOCK) | 0)] = 1;
    }
  }
  return {
    core,
    lines,
    cells,
    blocks,
    covered,
    byRows,
    sums: new Float32Array(core.length),
    live: new Uint8Array(covered.length),
    at: byRows ? (x, y) => y * cells + x : (x, y) => x * cells + y,
  };
}

/** @param along Of the direction's unit vector, the part from line to line; `across` is that along a line. */
function summed(lines: Lines, along: number, across: number, horizon: number): SumsAhead {
  const { core, sums, cells, blocks, covered, live } = lines;
  const step = 1 / Math.abs(along);
  const fade = horizon ** step;
  const shift = across * step;
  const whole = Math.floor(shift);
  const share = shift - whole;
  const next = along > 0 ? 1 : -1;
  // From these both cells ahead lie in the map; others have nothing ahead.
  const from = Math.max(0, -whole);
  const to = Math.max(from, Math.min(cells, cells - 1 - whole));
  for (let n = 0; n < lines.lines; n++) {
    const line = next > 0 ? lines.lines - 1 - n : n;
    const beyond = line + next;
    const hasBeyond = beyond >= 0 && beyond < lines.lines;
    const first = line * cells;
    const ahead = beyond * cells + whole;
    for (let b = 0; b < blocks; b++) {
      const block = line * blocks + b;
      const start = b * BLOCK;
      const end = Math.min(start + BLOCK, cells);
      const near = beyond * blocks + b;
      // A sum above 0 begins at a cell above a half, or goes on from one of the neighbours ahead.
      const goesOn =
        hasBeyond &&
        (live[near] === 1 ||
          (b > 0 && live[near - 1] === 1) ||
          (b + 1 < blocks && live[near + 1] === 1));
      if (!goesOn && !covered[block]) {
        if (live[block]) sums.fill(0, first + start, first + end);
        live[block] = 0;
        continue;
      }
      let most = 0;
      const begin = goesOn ? Math.min(end, Math.max(start, from)) : end;
      const stop = goesOn ? Math.max(begin, Math.min(end, to)) : end;
      for (let cell = start; cell < begin; cell++) {
        const sum = (core[first + cell]! - 0.5) * step;
        sums[first + cell] = sum > 0 ? sum : 0;
        if (sum > most) most = sum;
      }
      let far = begin < stop ? sums[ahead + begin]! : 0;
      for (let cell = begin; cell < stop; cell++) {
        const here = far;
        far = sums[ahead + cell + 1]!;
        const sum = (core[first + cell]! - 0.5) * step + fade * (here + (far - here) * share);
        sums[first + cell] = sum > 0 ? sum : 0;
        if (sum > most) most = sum;
      }
      for (let cell = stop; cell < end; cell++) {
        const sum = (core[first + cell]! - 0.5) * step;
        sums[first + cell] = sum > 0 ? sum : 0;
        if (sum > most) most = sum;
      }
      live[block] = most > 0 ? 1 : 0;
    }
  }
  return lines;
}
