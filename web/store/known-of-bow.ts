import { learnRecord } from '../../src/trends/learn-record.ts';
import { trendEnds } from '../../src/trends/trend-ends.ts';
import { readLog } from '../../src/tuning/read-log.ts';
import { NOTHING_KNOWN, type KnownOfBow } from '../state/known.ts';
import type { Settings } from '../state/settings.ts';
import { database } from './database.ts';
import { keptEnds } from './kept-ends.ts';
import { logRowsOf } from './log-of-kept.ts';

/** Learns from the archer's kept ends, without the one that is being judged. */
export async function knownOfBow(
  { archer, setUpId, distanceM }: Pick<Settings, 'archer' | 'setUpId' | 'distanceM'>,
  judged: { readonly id: string; readonly at: string },
): Promise<KnownOfBow> {
  if (archer.trim() === '') return NOTHING_KNOWN;
  const db = await database();
  const [kept, bows, setUps] = await Promise.all([
    keptEnds(),
    db.getAll('bows'),
    db.getAll('setUps'),
  ]);
  const rows = kept
    .filter((end) => end.id !== judged.id && end.settings.archer === archer)
    .map((end) => logRowsOf(end, { bows, setUps }));
  if (rows.length === 0) return NOTHING_KNOWN;
  const sessions = [...new Map(rows.map(({ session }) => [session.id, session])).values()];
  const ends = rows.map(({ end }) => end);
  const record = learnRecord(trendEnds({ sessions, ends }), { at: judged.at }) ?? undefined;

  const setUp = setUps.find((one) => one.id === setUpId);
  const bow = bows.find((one) => one.id === setUp?.bowId);
  if (!setUp || !bow) return { record, readWith: null };
  const own = setUps.filter((one) => one.bowId === bow.id);
  return {
    record,
    readWith: (end) => {
      const now = logRowsOf(end, { bows, setUps });
      const log = {
        setUps: own,
        sessions: [...sessions.filter(({ id }) => id !== now.session.id), now.session],
        ends: [...ends, now.end],
      };
      return readLog(bow, log, {
        setUpId: setUp.id,
        record,
        ...(distanceM !== null && { distanceM }),
      });
    },
  };
}
