import type { ArcherRecord } from '../../src/groups/archer-record.ts';
import { scatterOf } from '../../src/groups/scatter.ts';
import { learnRecord, type EndScatter } from '../../src/trends/learn-record.ts';
import {
  shootEnd,
  virtualSession,
  type Chance,
  type VirtualArcher,
  type VirtualArrow,
} from '../simulation/virtual-archer.ts';

/** Twenty ends over four earlier sessions, with the bow as it stood then. */
export function recordOf(
  archer: VirtualArcher,
  luck: Chance,
  { fletched, bare }: { readonly fletched: number; readonly bare: number },
): ArcherRecord {
  const ends: EndScatter[] = [];
  for (let s = 0; s < 4; s++) {
    const session = virtualSession(archer, luck);
    for (let e = 0; e < 5; e++) {
      const arrows = shootEnd(archer, session, { settings: archer.start, fletched, bare }, luck);
      ends.push(scatterOfEnd(arrows, archer.distanceM, `s${s}`));
    }
  }
  return learnRecord(ends, { at: LONG_AGO })!;
}

const LONG_AGO = '2031-01-01T00:00:00Z';

function scatterOfEnd(
  arrows: readonly VirtualArrow[],
  distanceM: number,
  sessionId: string,
): EndScatter {
  const of = (kind: VirtualArrow['kind']) => {
    const mrad = arrows
      .filter((arrow) => arrow.kind === kind)
      .map(({ mm }) => [mm[0] / distanceM, mm[1] / distanceM] as const);
    return mrad.length > 0 ? scatterOf(mrad) : { n: 0, sumOfSquares: 0 };
  };
  const [fletched, bare] = [of('fletched'), of('bare')];
  return {
    sessionId,
    shotAt: LONG_AGO,
    fletched: fletched.n,
    bare: bare.n,
    squaresMrad2: { fletched: fletched.sumOfSquares, bare: bare.sumOfSquares },
  };
}
