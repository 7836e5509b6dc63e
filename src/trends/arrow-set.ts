import isSame from 'fast-deep-equal';
import { partOf } from '../tuning/bow/parts.ts';
import type { Bow, Setting, SetUp } from '../tuning/bow/set-up.ts';

/**
 * The set-ups that were shot with the same arrows as one of them, as their readings say it: of another
 * spine, length, point or shaft, number 7 is another arrow. What was not read contradicts nothing.
 */
export function sameArrows(bow: Bow, setUps: readonly SetUp[], setUpId: string): Set<string> {
  const ofArrow = bow.adjusters.filter(({ part }) => partOf(part).ofArrow).map(({ id }) => id);
  const sets: { readonly ids: Set<string>; readonly read: Map<string, Setting> }[] = [];
  const inOrder = [...setUps].sort((a, b) => Date.parse(a.date) - Date.parse(b.date));
  for (const { id, settings } of inOrder) {
    const read = ofArrow.flatMap((adjuster) => {
      const setting = settings[adjuster];
      return setting ? [[adjuster, setting] as const] : [];
    });
    let own = sets.findLast((set) =>
      read.every(([adjuster, setting]) => {
        const before = set.read.get(adjuster);
        return before === undefined || isSame(before, setting);
      }),
    );
    if (!own) sets.push((own = { ids: new Set(), read: new Map() }));
    own.ids.add(id);
    for (const [adjuster, setting] of read) own.read.set(adjuster, setting);
  }
  return sets.find(({ ids }) => ids.has(setUpId))?.ids ?? new Set([setUpId]);
}
