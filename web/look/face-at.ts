import type { Reading } from '../../src/reading/reading.ts';

export type SeenFace = Reading['faces'][number];

/** The face that lies at a place of the photo: where several overlap, the one nearest to its middle. */
export function faceAt(faces: readonly SeenFace[], px: readonly [number, number]): SeenFace | null {
  const share = ({ centrePx, radiusPx }: SeenFace) =>
    Math.hypot(centrePx[0] - px[0], centrePx[1] - px[1]) / radiusPx;
  return faces
    .filter((face) => share(face) <= 1)
    .reduce<SeenFace | null>(
      (best, face) => (best && share(best) <= share(face) ? best : face),
      null,
    );
}
