import { ENGLISH, type Words } from '../../words/words.ts';
import type { Bow, SetUp } from './set-up.ts';
import { adjusterName } from './adjuster-name.ts';
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
export function setUpDifference(
  bow: Bow,
  from: SetUp,
  to: SetUp,
  words: Words = ENGLISH,
): SettingDifference[] {
  const differences: SettingDifference[] = [];
  for (const adjuster of bow.adjusters) {
    const [before, after] = [from.settings[adjuster.id], to.settings[adjuster.id]];
    const said = [
      settingWords(adjuster, before, words),
      settingWords(adjuster, after, words),
    ] as const;
    if (said[0] === said[1]) continue;
    const was = before ? settingAmount(adjuster, before) : null;
    const is = after ? settingAmount(adjuster, after) : null;
    const change = was === null || is === null ? null : Number((is - was).toFixed(6));
    differences.push({
      adjusterId: adjuster.id,
      name: adjusterName(adjuster, words),
      from: said[0],
      to: said[1],
      change,
      words:
        change === null
          ? words.say('{from}, now {to}', { from: said[0], to: said[1] })
          : changeWords(adjuster, change, words),
    });
  }
  return differences;
}
