import { FACES, ringRadiiMm } from '../../face/faces.ts';
import { PARAMETER, projectorOf, type CameraState } from '../camera/camera-state.ts';

/** Directions in which a ring's uncertainty is looked at. */
const DIRECTIONS = 8;

/**
 * Largest predicted one-sigma distance of a ring from its predicted image, across it, px. The
 * covariance may be of a state with a shorter list of parameters: the missing ones are unknown zeros.
 */
export function ringSdPx(
  state: CameraState,
  covariance: readonly (readonly number[])[],
  spot: number,
  ring: number,
): number {
  const projector = projectorOf(state);
  const radius = ringRadiiMm(FACES[state.face])[ring]!;
  const [cx, cy] = state.spotCentresMm[spot]!;
  const size = Math.min(covariance.length, PARAMETER.bulge + state.bulge.length);
  const rowX = new Float64Array(Math.max(size, PARAMETER.bulge + state.bulge.length));
  const rowY = new Float64Array(rowX.length);
  const across = new Float64Array(size);
  let most = 0;
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = (2 * Math.PI * k) / DIRECTIONS;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    projector.slopes(cx + radius * cos, cy + radius * sin, rowX, rowY);
    const tx = -sin * projector.alongX[0] + cos * projector.alongY[0];
    const ty = -sin * projector.alongX[1] + cos * projector.alongY[1];
    const length = Math.hypot(tx, ty);
    for (let i = 0; i < size; i++) across[i] = (-ty * rowX[i]! + tx * rowY[i]!) / length;
    let variance = 0;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) variance += across[i]! * covariance[i]![j]! * across[j]!;
    }
    most = Math.max(most, variance);
  }
  return Math.sqrt(most);
}
