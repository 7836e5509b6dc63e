import { z } from 'zod';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import { archerIds } from '../../src/tuning/record/archer-id.ts';
import { archerSchema, endSchema, sessionSchema } from '../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';
import { handOverWhat } from './hand-over.ts';
import { keptEnds } from '../store/kept-ends.ts';
import { lastOfEach, logRowsOf } from '../store/log-of-kept.ts';
import { writtenBook } from '../store/written-book.ts';

/** What is kept on this device, and with it the server's log where ends are handed to it. */
export async function wholeLog(): Promise<WholeLog> {
  const [kept, book] = await Promise.all([keptEnds(), writtenBook()]);
  const shared = handOverWhat.value === 'off' ? null : await sharedLog().catch(() => null);
  const idOf = archerIds(shared?.archers);
  // Oldest first: of rows with one id the last one stays.
  const rows = kept.reverse().map((end) => logRowsOf(end, book, idOf));
  const own: WholeLog = {
    archers: rows.map(({ archer }) => archer),
    bows: rows.map(({ bow }) => bow),
    setUps: rows.map(({ setUp }) => setUp),
    sessions: rows.map(({ session }) => session),
    ends: rows.map(({ end }) => end),
  };
  return {
    archers: lastOfEach(shared?.archers ?? [], own.archers),
    bows: lastOfEach(shared?.bows ?? [], own.bows),
    setUps: lastOfEach(shared?.setUps ?? [], own.setUps),
    sessions: lastOfEach(shared?.sessions ?? [], own.sessions),
    ends: lastOfEach(shared?.ends ?? [], own.ends),
  };
}

async function sharedLog(): Promise<WholeLog> {
  const list = async <T>(name: string, schema: z.ZodType<T>): Promise<T[]> => {
    const answer = await fetch(`api/log/${name}`);
    if (!answer.ok) throw new Error(answer.statusText);
    return z.array(schema).parse(await answer.json());
  };
  const [archers, bows, setUps, sessions, ends] = await Promise.all([
    list('archers', archerSchema),
    list('bows', bowSchema),
    list('set-ups', setUpSchema),
    list('sessions', sessionSchema),
    list('ends', endSchema),
  ]);
  return { archers, bows, setUps, sessions, ends };
}
