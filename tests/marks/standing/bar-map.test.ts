import { expect, test } from 'vitest';
import type { SpotView } from '../../../src/marks/flat-view/spot-view.ts';
import { barMap } from '../../../src/marks/standing/bar-map.ts';
import { random } from '../../groups/random.ts';

const SIDE = 180;
const SHAFT_PX = 8;

function viewWith(
  noise: (x: number, y: number) => number,
  isBar: (x: number) => boolean,
): SpotView {
  const { normal } = random(5);
  const odd = Float32Array.from({ length: SIDE * SIDE }, (_, i) => {
    const [x, y] = [i % SIDE, Math.floor(i / SIDE)];
    return Math.abs(noise(x, y) * normal()) + (isBar(x) ? 60 : 0);
  });
  const level = new Float32Array(SIDE * SIDE).fill(180);
  return {
    misfit: { side: SIDE, odd, dark: odd, level },
    flat: { mmPerPx: 1 },
    shaftMm: SHAFT_PX,
  } as unknown as SpotView;
}

test('what covers the face shows for certain, what only is noisy hardly at all', () => {
  const isBar = (x: number) => x >= 120 && x < 120 + SHAFT_PX;
  const bars = barMap(viewWith(() => 3, isBar));
  const share = (inside: boolean) => {
    const own = bars.filter((_, i) => {
      const x = i % SIDE;
      return inside ? x >= 122 && x < 126 : x < 110 || x > 140;
    });
    return own.reduce((sum, value) => sum + value, 0) / own.length;
  };
  expect(share(true)).toBeGreaterThan(0.95);
  expect(share(false)).toBeLessThan(0.05);
});

test('where the print itself differs all round, it is no bar', () => {
  // A ring three times as noisy as the rest, as lines are that the flat view has blurred.
  const onLine = (x: number, y: number) => {
    const radius = Math.hypot(x - SIDE / 2, y - SIDE / 2);
    return radius > 60 && radius < 63 ? 12 : 3;
  };
  const bars = barMap(viewWith(onLine, () => false));
  const onRing = bars.filter((_, i) => onLine(i % SIDE, Math.floor(i / SIDE)) > 3);
  expect(onRing.reduce((sum, value) => sum + value, 0) / onRing.length).toBeLessThan(0.1);
});

test('where the photo shows nothing of the face, there is nothing', () => {
  const view = viewWith(
    () => 3,
    () => true,
  );
  view.misfit.level.fill(0);
  expect(barMap(view).every((value) => value === 0)).toBe(true);
});
