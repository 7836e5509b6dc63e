import type { FaceFit } from '../../fit/camera/face-fit.ts';
import { spotToSheet } from '../../fit/camera/project.ts';
import { likeliestOf } from '../candidates/likeliest-of.ts';
import {
  inFrameOf,
  widening,
  wideningAlong,
  type ArrowGeometry,
  type FollowedImage,
} from './arrow-geometry.ts';

/** Parts of an arrow's image behind which what starts on its middle line, or at its vanes, may be its rear. */
const ON_LINE = { from: 0.25, widths: 0.75 } as const;
const AT_VANES = { from: 0.4, widths: 2 } as const;
/** Shorter images, in shafts, are of arrows seen almost end on, which groups are as wide as. */
const LEAST_LENGTH = 12;
/**
 * How much oftener something that looks like an entry lies right on the image of an arrow, and points as it
 * does, than one lies anywhere: wraps, labels and light break shafts. By drawn photos, where 16 of 143 false
 * places but 1 of 380 entries lay there.
 */
const PIECES = 16;
/** How such pieces spread: beside the middle line, in widths there, and in direction. */
const PIECE_SD = { widths: 0.5, turn: (5 * Math.PI) / 180 } as const;

/** Largest angle between an arrow's image and what starts at its rear end. */
const MOST_TURN = (20 * Math.PI) / 180;

/**
 * Leaves out what seems to enter where the rear end of another is seen: wraps and vanes begin anew. An
 * arrow that entered there would stand out as far as the other and end farther on, by as much as it
 * starts farther on; a rear end ends where its arrow does.
 */
export function withoutRears<T extends FollowedImage>(
  arrows: readonly T[],
  geometry: ArrowGeometry,
  shaftMm: number,
): T[] {
  return likeliestOf(arrows, (one, other) => isRearOf(one, other, geometry, shaftMm));
}

/**
 * Weighs what lies along the image of another: it may be a piece of that arrow, which then enters where that
 * begins, even where little is seen of its entry. Both are as likely as the four ways that there are: neither
 * is an arrow, one of them, or both.
 */
export function weighedAsPieces<T extends FollowedImage>(
  arrows: readonly T[],
  fit: Pick<FaceFit, 'spotCentresMm'>,
  geometry: ArrowGeometry,
  shaftMm: number,
): T[] {
  const odds = arrows.map(({ probability }) => probability / (1 - probability));
  /** How much oftener a piece of any arrow lies where each one does than what is no piece. */
  const asPiece = arrows.map(() => 0);
  const begun = arrows.map(() => 1);
  arrows.forEach((whole, i) => {
    const entry = spotToSheet(fit, whole.spot, whole.mm);
    const widthAt = (aheadMm: number) => shaftMm * wideningAlong(geometry, entry, aheadMm);
    arrows.forEach((piece, k) => {
      if (whole.lengthMm < LEAST_LENGTH * shaftMm) return;
      const more = PIECES * likenessToPiece(piece, whole, widthAt);
      if (more === 0) return;
      const [a, b] = [odds[i]!, odds[k]!];
      asPiece[k]! += (more * a) / (1 + a);
      // Pieces of one arrow come together, so the one that tells most of it counts; faint ones lie anywhere.
      if (b >= 1) begun[i] = Math.max(begun[i]!, 1 + more / (1 + b));
    });
  });
  return arrows.map((arrow, i) => {
    // What is rather a piece itself begins nothing.
    const weighed = (odds[i]! / (1 + asPiece[i]!)) * (asPiece[i]! < 1 ? begun[i]! : 1);
    return { ...arrow, probability: weighed / (1 + weighed) };
  });
}

/** How well something lies on the image of another as a piece of it does: 1 right on it, 0 not at all. */
function likenessToPiece(
  { spot, mm, along }: FollowedImage,
  whole: FollowedImage,
  widthAt: (aheadMm: number) => number,
): number {
  if (spot !== whole.spot) return 0;
  const { ahead, beside } = inFrameOf(whole, mm);
  const part = ahead / whole.lengthMm;
  if (part < ON_LINE.from || part > 1) return 0;
  const cos = along[0] * whole.along[0] + along[1] * whole.along[1];
  if (cos < Math.cos(MOST_TURN)) return 0;
  const turn = Math.acos(Math.min(1, cos));
  const widths = beside / widthAt(ahead);
  return Math.exp(-((widths / PIECE_SD.widths) ** 2 + (turn / PIECE_SD.turn) ** 2) / 2);
}

function isRearOf(
  one: FollowedImage,
  other: FollowedImage,
  geometry: ArrowGeometry,
  shaftMm: number,
): boolean {
  const { spot, along, lengthMm, runsOut } = other;
  // Where the picture ends nothing tells how far an arrow went on.
  if (one.spot !== spot || runsOut || one.runsOut) return false;
  if (lengthMm < LEAST_LENGTH * shaftMm) return false;
  const { ahead, beside } = inFrameOf(other, one.mm);
  const part = ahead / lengthMm;
  if (part < ON_LINE.from || part > 1) return false;
  const { widths } = part < AT_VANES.from ? ON_LINE : AT_VANES;
  const widthMm = shaftMm * (1 + (widening(geometry) - 1) * part);
  if (beside > widths * widthMm) return false;
  const turn = along[0] * one.along[0] + along[1] * one.along[1];
  return turn > Math.cos(MOST_TURN) && ahead + one.lengthMm * turn < lengthMm + ahead / 2;
}
