import { archerIds } from '../../src/tuning/record/archer-id.ts';
import { knownOfShot } from '../../src/reading/known-of-archer.ts';
import type { Known } from '../../src/reading/judge-tuning.ts';
import type { Settings } from '../state/settings.ts';
import { keptEnds } from './kept-ends.ts';
import { lastOfEach, logRowsOf, nameOf } from './log-of-kept.ts';
import { writtenBook } from './written-book.ts';

/** What the ends kept on this device know of who shot an end, without the one that is being judged. */
export async function knownOfBow(
  { archer, setUpId }: Pick<Settings, 'archer' | 'setUpId'>,
  judged: { readonly id: string; readonly at: string },
): Promise<Known> {
  if (archer.trim() === '') return {};
  const [kept, book] = await Promise.all([keptEnds(), writtenBook()]);
  const idOf = archerIds();
  const archerId = idOf(archer);
  const rows = kept
    .filter((end) => idOf(nameOf(end.settings)) === archerId)
    .map((end) => logRowsOf(end, book));
  const inUse = book.setUps.find((one) => one.id === setUpId);
  const bow = book.bows.find((one) => one.id === inUse?.bowId);
  const hand = bow?.hand ?? rows.at(-1)?.archer.hand;
  if (!hand) return {};
  const log = {
    archers: [{ id: archerId, name: archer.trim(), hand, notes: '' }],
    bows: lastOfEach([...rows.map((row) => row.bow), ...(bow ? [{ ...bow, archerId }] : [])]),
    setUps: lastOfEach([...rows.map((row) => row.setUp), ...book.setUps]),
    sessions: lastOfEach(rows.map(({ session }) => session)),
    ends: rows.map(({ end }) => end),
  };
  const of = knownOfShot(log, {
    archerId,
    bowId: bow?.id ?? null,
    setUpId: inUse?.id ?? null,
    isThisEnd: ({ id }) => id === judged.id,
  });
  return of ? { log: { of, at: judged.at } } : {};
}
