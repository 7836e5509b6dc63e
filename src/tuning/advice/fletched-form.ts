import { ENGLISH, type Words } from '../../words/words.ts';
import f from '@stdlib/stats-base-dists-f';
import type { ArcherRecord } from '../../groups/archer-record.ts';
import type { Group } from '../../groups/groups.ts';
import { c4 } from '../../groups/group-statistics.ts';
import { spreadPrior } from '../../groups/offset-posterior.ts';
import type { Tuning } from './tuning.ts';

/**
 * Is today's fletched group normal for this archer? The ratio of today's mean square to the
 * record's follows F on 2(n - 1) and the record's discounted degrees of freedom.
 */
export function fletchedForm(
  fletched: Group | null,
  { record, distanceM }: { record?: ArcherRecord | undefined; distanceM?: number | undefined },
  { say, number }: Words = ENGLISH,
): Tuning['fletchedForm'] {
  const prior = record && distanceM ? spreadPrior(record, distanceM) : null;
  if (!fletched || fletched.sigmaMm === null || !prior) {
    return {
      verdict: 'unknown',
      ratio: null,
      p: null,
      meaning: say(
        record
          ? 'Too little to compare the fletched group with your usual spread.'
          : 'No record of your usual spread yet: keep your ends, and it will be learned.',
      ),
    };
  }
  const df = 2 * (fletched.n - 1);
  const rms = fletched.sigmaMm * c4(df + 1);
  const ratio = rms / prior.sigmaMm;
  const p = 1 - f.cdf(ratio ** 2, df, prior.df);
  const verdict = p < 0.05 ? 'wider' : p > 0.975 ? 'tighter' : 'usual';
  const meaning = {
    wider: say(
      'Your fletched group is {ratio} times as wide as usual for you: settle the shooting before you read the bare shafts.',
      { ratio: number(ratio, 1) },
    ),
    tighter: say('Your fletched group is tighter than usual for you.'),
    usual: say('Your fletched group is about as wide as usual for you.'),
  }[verdict];
  return { verdict, ratio, p, meaning };
}
