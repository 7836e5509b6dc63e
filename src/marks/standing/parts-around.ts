import type { SpotMm } from '../../face/coordinates.ts';

/** A square part of a spot: its middle and half of its side, mm. */
export interface Part {
  readonly centreMm: SpotMm;
  readonly halfWidthMm: number;
}

/** Left, low, right and high end of an upright box, mm. */
type Box = readonly [number, number, number, number];

/**
 * Parts of a spot, few and none wider than `mostMm` if a place alone is not, that show all places and
 * what is around them up to `marginMm`: places closer than that are seen together while it fits.
 */
export function partsAround(places: readonly SpotMm[], marginMm: number, mostMm: number): Part[] {
  let boxes = places.map(([x, y]): Box => [x, y, x, y]);
  for (;;) {
    const pair = firstPair(
      boxes,
      (a, b) => gap(a, b) < marginMm && side(around(a, b)) + 2 * marginMm <= mostMm,
    );
    if (!pair) break;
    boxes = [...boxes.filter((box) => !pair.includes(box)), around(...pair)];
  }
  return boxes.map((box) => ({
    centreMm: [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2],
    halfWidthMm: side(box) / 2 + marginMm,
  }));
}

/** How far inside a part a place lies, mm; negative outside. */
export function depthIn({ centreMm, halfWidthMm }: Part, mm: SpotMm): number {
  return halfWidthMm - Math.max(Math.abs(mm[0] - centreMm[0]), Math.abs(mm[1] - centreMm[1]));
}

function firstPair(
  boxes: readonly Box[],
  suits: (a: Box, b: Box) => boolean,
): readonly [Box, Box] | null {
  for (const [i, a] of boxes.entries()) {
    const b = boxes.slice(i + 1).find((other) => suits(a, other));
    if (b) return [a, b];
  }
  return null;
}

function around(a: Box, b: Box): Box {
  return [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
}

function side([left, low, right, high]: Box): number {
  return Math.max(right - left, high - low);
}

/** How far apart two boxes are, the larger of across and up. */
function gap(a: Box, b: Box): number {
  return Math.max(
    Math.max(a[0], b[0]) - Math.min(a[2], b[2]),
    Math.max(a[1], b[1]) - Math.min(a[3], b[3]),
  );
}
