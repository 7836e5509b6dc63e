import { expect, test } from 'vitest';
import { reachOf, type Conic } from '../../../src/fit/camera/conic.ts';
import { spreadAround } from '../../../src/fit/find/spread-around.ts';

const RAYS = 120;
const CIRCLE = { centre: [0, 0], semiAxes: [10, 10], angle: 0 } as const;
const CONIC: Conic = [1, 0, 0, 0, 1, 0, 0, 0, -100];

/** Where rays from a place meet the circle of radius 10 first on their way out. */
function metFrom(place: readonly [number, number]) {
  return Array.from({ length: RAYS }, (_, ray) => {
    const way = [
      Math.cos((2 * Math.PI * ray) / RAYS),
      Math.sin((2 * Math.PI * ray) / RAYS),
    ] as const;
    const reach = reachOf(CONIC, place, way);
    return { ray, point: [place[0] + reach * way[0], place[1] + reach * way[1]] as const };
  });
}

test('rays from within a ring see it all around', () => {
  expect(spreadAround(CIRCLE, metFrom([0, 0]), RAYS)).toBe(1);
  expect(spreadAround(CIRCLE, metFrom([4, 2]), RAYS)).toBeGreaterThan(0.9);
});

test('a part of the rays sees a part of it, which is no less for that', () => {
  const right = metFrom([0, 0]).filter(({ point: [x] }) => x > 0);
  expect(spreadAround(CIRCLE, right, RAYS)).toBe(1);
});

test('rays that crowd on one side see little of it', () => {
  const crowded = metFrom([0, 0]).map(({ ray }) => {
    const angle = 0.3 * Math.sin(ray);
    return { ray, point: [10 * Math.cos(angle), 10 * Math.sin(angle)] as const };
  });
  expect(spreadAround(CIRCLE, crowded, RAYS)).toBeLessThan(0.2);
});

test('of a long ellipse the ends are as much of it as the sides', () => {
  const places = Array.from({ length: RAYS }, (_, ray) => {
    const t = (2 * Math.PI * ray) / RAYS;
    return { ray, point: [40 * Math.cos(t), 10 * Math.sin(t)] as const };
  });
  expect(spreadAround({ ...CIRCLE, semiAxes: [40, 10] }, places, RAYS)).toBe(1);
});
