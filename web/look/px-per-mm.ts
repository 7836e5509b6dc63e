import type { OpenEnd } from '../state/open-end.ts';

/** Photo pixels per millimetre of the face at a place of the photo; 1 before a reading. */
export function pxPerMmAt(end: OpenEnd, px: readonly [number, number]): number {
  const maps = end.maps.value;
  if (maps.length === 0) return 1;
  const { spot, mm } = end.placeOf(px);
  const map = maps[spot]!;
  const right = map.toPx([mm[0] + 1, mm[1]]);
  const up = map.toPx([mm[0], mm[1] + 1]);
  const here = map.toPx(mm);
  const [ax, ay] = [right[0] - here[0], right[1] - here[1]];
  const [bx, by] = [up[0] - here[0], up[1] - here[1]];
  return Math.sqrt(Math.abs(ax * by - ay * bx));
}
