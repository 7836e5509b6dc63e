import { shaftOf } from '../state/evaluate.ts';
import type { OpenEnd } from '../state/open-end.ts';
import type { PageMark } from '../state/end-record.ts';

/** A place where something is, with how well it is known. */
export type EvidencePlace = Pick<PageMark, 'spot' | 'mm' | 'px' | 'sdMm' | 'radialSdMm'>;

/** Evidence as weak as this counts only right under the finger. */
const WEAKEST = 0.02;

/**
 * What a person most likely means who points at a place: within a shaft's diameter and the
 * finger's own error, the evidence that is near and strong and has no mark yet. Marks of the
 * reading that were removed count as evidence again.
 *
 * @param slackMm How far the finger may be off, mm on the face.
 */
export function nearestEvidence(
  end: OpenEnd,
  at: Pick<PageMark, 'spot' | 'mm'>,
  slackMm: number,
): EvidencePlace | null {
  const reading = end.reading.value;
  if (!reading) return null;
  const shaftMm = shaftOf(reading, end.settings.value);
  const reachMm = shaftMm + slackMm;
  const present = end.marks.value;
  const removed = reading.marks
    .filter((mark) => present.every(({ id }) => id !== mark.id))
    .map((mark) => ({ ...mark, probability: 1 }));
  let best: EvidencePlace | null = null;
  let most = Math.log(WEAKEST);
  for (const { spot, mm, px, sdMm, radialSdMm, probability } of [
    ...removed,
    ...reading.uncounted,
  ]) {
    const apartMm = Math.hypot(mm[0] - at.mm[0], mm[1] - at.mm[1]);
    if (spot !== at.spot || apartMm > reachMm) continue;
    const marked = present.some(
      (mark) =>
        mark.spot === spot && Math.hypot(mark.mm[0] - mm[0], mark.mm[1] - mm[1]) < shaftMm / 2,
    );
    if (marked) continue;
    // The reach is two sigmas of the pointing.
    const merit = Math.log(probability) - 2 * (apartMm / reachMm) ** 2;
    if (merit > most) [best, most] = [{ spot, mm, px, sdMm, radialSdMm }, merit];
  }
  return best;
}
