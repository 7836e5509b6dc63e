import type { OpenEnd } from '../state/open-end.ts';
import { release } from '../open-ends/ends.ts';
import { correctedReading } from './corrected-reading.ts';
import { database, type KeptEnd } from '../store/database.ts';
import { handOver } from './hand-over.ts';
import { askToStay } from './stay-kept.ts';

/**
 * Writes the end to this device's log in one transaction, and closes it.
 * @throws Error where nobody has said which hand shot: it is asked for first
 */
export async function keepEnd(end: OpenEnd): Promise<KeptEnd> {
  const hand = end.hand.value;
  if (hand === null) throw new Error('An end is kept once its hand is known.');
  const reading = correctedReading(end);
  const db = await database();
  const write = db.transaction(['ends', 'drafts', 'photos'], 'readwrite');
  const earlier = await write.objectStore('ends').get(end.id);
  const kept: KeptEnd = {
    ...end.record(),
    settings: { ...end.settings.value, hand },
    reading,
    step: 'verdict',
    keptAt: earlier?.keptAt ?? new Date().toISOString(),
    revision: (earlier?.revision ?? 0) + 1,
    sentRevision: earlier?.sentRevision ?? 0,
    logVersion: earlier?.logVersion ?? null,
    conflict: earlier?.conflict ?? null,
  };
  await write.objectStore('ends').put(kept);
  await write.objectStore('photos').put(end.photo, end.id);
  await write.objectStore('drafts').delete(end.id);
  await write.done;
  release(end);
  // A draft that was on its way when the end was kept would come back in its place. Nobody waits for this:
  // a page that still stood at the end meanwhile would open it anew.
  void db.delete('drafts', end.id);
  void handOver();
  void askToStay();
  return kept;
}
