import type { Scene } from './scene.ts';

/** The scene photographed at this many pixels along the longer side, so that it is drawn in little time. */
export function madeSmall(scene: Scene, longPx: number): Scene {
  const { camera } = scene;
  const factor = longPx / Math.max(camera.width, camera.height);
  return {
    ...scene,
    camera: {
      ...camera,
      width: Math.round(camera.width * factor),
      height: Math.round(camera.height * factor),
      focalPx: camera.focalPx * factor,
      centrePx: [camera.centrePx[0] * factor, camera.centrePx[1] * factor],
    },
  };
}
