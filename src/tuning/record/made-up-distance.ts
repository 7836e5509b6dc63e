import type { FaceId } from '../../face/faces.ts';
import { usualDistancesM } from '../../face/usual-distances.ts';

/** An earlier page kept ends of which nobody had said the distance as of so many metres, indoors. */
export const MADE_UP_M = 18;

/**
 * Whether a session's distance is one that nobody said, by how the page named it. The name is the
 * same where 18 m was said: where the face is shot from there, only the device that kept the end can
 * tell, and hands it over anew.
 */
export function madeUpDistance(session: {
  readonly id: string;
  readonly distanceM: number | null;
  readonly face: FaceId;
}): 'yes' | 'perhaps' | 'no' {
  const { id, distanceM, face } = session;
  if (distanceM !== MADE_UP_M || !id.endsWith(`-${MADE_UP_M}m-${face}`)) return 'no';
  return usualDistancesM(face).includes(MADE_UP_M) ? 'perhaps' : 'yes';
}

/** Where it was made up, the setting was too, unless somebody said 'outdoor'. */
export function withoutMadeUp<
  T extends { readonly distanceM: number | null; readonly setting: 'indoor' | 'outdoor' | null },
>(session: T): T {
  const { setting } = session;
  return { ...session, distanceM: null, setting: setting === 'indoor' ? null : setting };
}

/** For who runs the log; null where there is nothing to say. */
export function madeUpWords(forgotten: number, open: number): string | null {
  const sentences: string[] = [];
  const ends = (n: number) => (n === 1 ? '1 end' : `${n} ends`);
  const [was, it] = forgotten === 1 ? ['was', 'it'] : ['were', 'them'];
  if (forgotten > 0) {
    sentences.push(
      `${ends(forgotten)} of which nobody had said the distance ${was} kept as of ${MADE_UP_M} m: ` +
        `it is unknown now, and the log learns no angles from ${it}.`,
    );
  }
  if (open > 0) {
    sentences.push(
      `Whether anybody said the distance of ${ends(open)} ${forgotten > 0 ? 'more ' : ''}at ${MADE_UP_M} m ` +
        'only the device that kept them knows: open the page there once, and what was not said is handed over anew.',
    );
  }
  return sentences.length === 0 ? null : sentences.join(' ');
}
