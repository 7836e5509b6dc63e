import { say } from '../state/words.ts';
import { FACES, outerRadiusMm } from '../../src/face/faces.ts';
import { announce } from '../state/announce.ts';
import { readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { faceAt, type SeenFace } from './face-at.ts';

/** The other face at a place of the photo, null on the face that was read and beside all. */
export function otherFaceAt(end: OpenEnd, px: readonly [number, number]): SeenFace | null {
  const reading = end.reading.value;
  if (!reading) return null;
  const { mm } = end.placeOf(px);
  if (Math.hypot(mm[0], mm[1]) <= outerRadiusMm(FACES[reading.face])) return null;
  return faceAt(reading.faces.slice(1), px);
}

/** Where another face lies from the one that was read. */
export function sideOf(end: OpenEnd, { centrePx }: SeenFace): 'left' | 'right' | 'above' | 'below' {
  const own = end.reading.value!.fit.spots[0]!.centrePx;
  const [dx, dy] = [centrePx[0] - own[0], centrePx[1] - own[1]];
  if (Math.abs(dx) >= Math.abs(dy)) return dx < 0 ? 'left' : 'right';
  return dy < 0 ? 'above' : 'below';
}

/** Reads another face of the photo instead; asks first where corrections would be lost. */
export function readOtherFace(end: OpenEnd, { centrePx }: SeenFace): void {
  const read = () => {
    end.pick.value = [centrePx[0], centrePx[1]];
    end.byHand.value = null;
    void readEnd(end);
  };
  if (!end.canUndo.value) read();
  else {
    announce(say('The corrections of this face would be lost.'), {
      label: say('Read it'),
      run: read,
    });
  }
}
