import { expect, test } from 'vitest';
import { eachLive, sumsAhead } from '../../../src/marks/standing/sums-ahead.ts';
import { drawnMap } from './drawn-map.ts';

const SIDE = 160;
const SHAFT = 6;

const twoShafts = () =>
  drawnMap(
    [
      { from: [50, 60], to: [110, 90] },
      { from: [0, 100], to: [90, 70] },
    ],
    SIDE,
    SHAFT,
  );

test('what lies ahead is summed along any direction as along a row, up to the grid', () => {
  const map = drawnMap([{ from: [80, 80], to: [140, 80] }], SIDE, SHAFT);
  const sumFrom = (x: number, y: number, angle: number, horizon = 1) => {
    const { sums, at } = sumsAhead(map, map.covered)(angle, horizon);
    return sums[at(x, y)]!;
  };
  // Half of each cell's value above a half counts: 60 cells ahead of full ones are worth 30.
  expect(sumFrom(80, 79, 0)).toBeCloseTo(30, 0);
  expect(sumFrom(80, 79, Math.PI)).toBeLessThan(3);
  // What is farther off counts less with a horizon: a geometric series (1 - .9^60) / (1 - .9) / 2.
  expect(sumFrom(80, 79, 0, 0.9)).toBeCloseTo((1 - 0.9 ** 60) / 0.2, 1);
});

/** The same sums as they are defined, cell by cell over all of a map. */
function plainSums(
  core: Float32Array,
  [width, height]: readonly [number, number],
  angle: number,
  horizon: number,
): Float32Array {
  const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
  const byRows = Math.abs(uy) >= Math.abs(ux);
  const [along, across] = byRows ? [uy, ux] : [ux, uy];
  const [lines, cells] = byRows ? [height, width] : [width, height];
  const at = (line: number, cell: number) => (byRows ? line * width + cell : cell * width + line);
  const step = 1 / Math.abs(along);
  const whole = Math.floor(across * step);
  const share = across * step - whole;
  const out = new Float32Array(core.length);
  for (let n = 0; n < lines; n++) {
    const line = along > 0 ? lines - 1 - n : n;
    const beyond = line + Math.sign(along);
    for (let cell = 0; cell < cells; cell++) {
      const near = cell + whole;
      const goesOn = beyond >= 0 && beyond < lines && near >= 0 && near + 1 < cells;
      const [a, b] = goesOn ? [out[at(beyond, near)]!, out[at(beyond, near + 1)]!] : [0, 0];
      const ahead = horizon ** step * (a + (b - a) * share);
      out[at(line, cell)] = Math.max(0, (core[at(line, cell)]! - 0.5) * step + ahead);
    }
  }
  return out;
}

test.each([
  ['square', SIDE, SIDE],
  ['wider than high', SIDE, 80],
  // Whose last block of cells is not a whole one.
  ['of odd sides', SIDE, 157],
])('bare parts that are left out change no sum of a map that is %s', (_, width, height) => {
  const covered = twoShafts().covered.slice(0, width * height);
  const ahead = sumsAhead({ width, height }, covered);
  // Also what an earlier direction left behind must be gone: all are asked of one map.
  for (let k = 0; k < 24; k++) {
    const angle = (2 * Math.PI * k) / 24;
    const wanted = plainSums(covered, [width, height], angle, 0.98);
    const directed = ahead(angle, 0.98);
    const found = Float32Array.from(
      wanted,
      (_value, i) => directed.sums[directed.at(i % width, Math.floor(i / width))]!,
    );
    expect(found.every((sum, i) => sum === wanted[i])).toBe(true);
  }
});

test('all sums above 0 lie in stretches that are called live, and most of a map does not', () => {
  const map = twoShafts();
  const directed = sumsAhead(map, map.covered)(0.4, 0.98);
  const left = directed.sums.slice();
  let live = 0;
  eachLive(directed, (from, to) => {
    live += to - from;
    left.fill(0, from, to);
  });
  expect(left.every((sum) => sum === 0)).toBe(true);
  expect(live).toBeLessThan(0.4 * left.length);
});
