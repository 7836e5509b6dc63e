import type { Bow, SetUp } from './set-up.ts';
import { settingAmount } from './setting-amount.ts';
import { changeWords, settingWords } from './setting-words.ts';

export interface SettingDifference {
  readonly adjusterId: string;
  readonly name: string;
  /** As read off, 'not read' where a set-up has none. */
  readonly from: string;
  readonly to: string;
  /** In clicks, the unit, or grades; null when one of the two was not read. */
  readonly change: number | null;
  /** '4 clicks stiffer', or what changed when it cannot be subtracted. */
  readonly words: string;
}

/** What differs between two set-ups of one bow, in the order of the bow's adjusters. */
export function setUpDifference(bow: Bow, from: SetUp, to: SetUp): SettingDifference[] {
  const differences: SettingDifference[] = [];
  for (const adjuster of bow.adjusters) {
    const [before, after] = [from.settings[adjuster.id], to.settings[adjuster.id]];
    const words = [settingWords(adjuster, before), settingWords(adjuster, after)] as const;
    if (words[0] === words[1]) continue;
    const was = before ? settingAmount(adjuster, before) : null;
    const is = after ? settingAmount(adjuster, after) : null;
    const change = was === null || is === null ? null : Number((is - was).toFixed(6));
    differences.push({
      adjusterId: adjuster.id,
      name: adjuster.name,
      from: words[0],
      to: words[1],
      change,
      words: change === null ? `${words[0]}, now ${words[1]}` : changeWords(adjuster, change),
    });
  }
  return differences;
}
