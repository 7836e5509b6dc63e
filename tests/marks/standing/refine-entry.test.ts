import { expect, test } from 'vitest';
import type { SpotView } from '../../../src/marks/flat-view/spot-view.ts';
import { refineEntry } from '../../../src/marks/standing/refine-entry.ts';
import { random } from '../../groups/random.ts';

const SIDE = 200;
const SHAFT = 10;
const MM_PER_PX = 0.5;

/** A shaft that leaves the paper at `at` towards an angle: a bar that ends round its entry's disc. */
function shaftAt(at: readonly [number, number], angle: number) {
  const { normal } = random(3);
  const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
  const bars = new Float32Array(SIDE * SIDE);
  const odd = new Float32Array(SIDE * SIDE);
  for (let i = 0; i < odd.length; i++) {
    const [x, y] = [(i % SIDE) + 0.5 - at[0], Math.floor(i / SIDE) + 0.5 - at[1]];
    const ahead = x * ux + y * uy;
    const beside = Math.abs(x * uy - y * ux);
    const inside = ahead > 0 ? beside < SHAFT / 2 : Math.hypot(ahead, beside) < 0.6 * SHAFT;
    bars[i] = inside ? 1 : 0;
    odd[i] = Math.abs(3 * normal()) + (inside ? 90 : 0);
  }
  const level = new Float32Array(SIDE * SIDE).fill(200);
  const view = {
    misfit: { side: SIDE, odd, dark: odd, level },
    flat: { mmPerPx: MM_PER_PX },
  } as unknown as SpotView;
  return { view, bars };
}

test.each([0.2, 1.1, 2.5, 4.4])(
  'an entry is found from a start half a shaft off, leaning %d',
  (angle) => {
    const at = [100 - 20 * Math.cos(angle), 100 - 20 * Math.sin(angle)] as const;
    const { view, bars } = shaftAt(at, angle);
    const off = angle + 0.1;
    const entry = refineEntry(view, bars, SHAFT * MM_PER_PX, {
      x: at[0] + 0.4 * SHAFT * Math.sin(angle),
      y: at[1] - 0.3 * SHAFT,
      alongX: Math.cos(off),
      alongY: Math.sin(off),
    });
    const [dx, dy] = [entry.x - at[0], entry.y - at[1]];
    const along = dx * Math.cos(angle) + dy * Math.sin(angle);
    const across = dy * Math.cos(angle) - dx * Math.sin(angle);
    expect(Math.abs(across)).toBeLessThan(0.1 * SHAFT);
    expect(Math.abs(along)).toBeLessThan(0.3 * SHAFT);
    const turned =
      Math.atan2(entry.alongY, entry.alongX) - Math.atan2(Math.sin(angle), Math.cos(angle));
    expect(Math.abs(Math.sin(turned))).toBeLessThan(0.02);
  },
);

test('where nothing shows, the start stays and its uncertainty with it', () => {
  const { view, bars } = shaftAt([-100, -100], 3.9);
  const start = { x: 100, y: 100, alongX: 1, alongY: 0 };
  expect(refineEntry(view, bars, SHAFT * MM_PER_PX, start)).toEqual({
    ...start,
    acrossSd: 0.3,
    alongSd: 0.5,
  });
});
