import type { BowLog } from './bow-log.ts';
import type { End } from './session.ts';
import type { SetUp } from '../bow/set-up.ts';

/**
 * The set-up that a bow had at a time, as far as its log tells: that of the last end until then, or a
 * newer one written down until then and not archived since; before all of them the first. Null without any.
 * @param setUps of the bow, oldest first
 */
export function setUpAt(
  { setUps, ends }: Pick<BowLog, 'setUps' | 'ends'>,
  at: string,
): SetUp | null {
  const until = (time: string) => Date.parse(time) <= Date.parse(at);
  const own = new Map(setUps.map((setUp) => [setUp.id, setUp]));
  const shot = ends
    .filter((end) => own.has(end.setUpId) && until(end.shotAt))
    .reduce<End | null>(
      (last, end) => (last && Date.parse(last.shotAt) > Date.parse(end.shotAt) ? last : end),
      null,
    );
  const written = setUps.filter((setUp) => !setUp.archived && until(setUp.date)).at(-1) ?? null;
  if (shot === null) return written ?? setUps[0] ?? null;
  const isNewer = written !== null && Date.parse(written.date) > Date.parse(shot.shotAt);
  return isNewer ? written : own.get(shot.setUpId)!;
}
