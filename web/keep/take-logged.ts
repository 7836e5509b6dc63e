import { say } from '../state/words.ts';
import { z } from 'zod';
import { FACES } from '../../src/face/faces.ts';
import { marksAsLogged } from '../../src/reading/marks-as-logged.ts';
import { endSchema, sessionSchema, type Session } from '../../src/tuning/record/session.ts';
import { release, openEnds } from '../open-ends/ends.ts';
import { plainMarkSchema } from '../state/end-record.ts';
import { evaluate } from '../state/evaluate.ts';
import { database, type KeptEnd } from '../store/database.ts';
import { knownOfBow } from '../store/known-of-bow.ts';
import { readLoggedBook } from './book-in-log.ts';
import { judgedReading } from './corrected-reading.ts';
import { getLog, Refused } from './log-requests.ts';

/**
 * After a person chose what the log has: the end on this device becomes as it is there.
 * @throws Refused where it cannot, with a sentence; another error where the log cannot be reached
 */
export async function takeLogged(id: string): Promise<void> {
  const db = await database();
  const end = await db.get('ends', id);
  if (!end?.reading) return;
  const [{ content: logged, version }, sessions, { archers }] = await Promise.all([
    getLog(`ends/${id}`, endSchema),
    getLog('sessions', z.array(sessionSchema)),
    readLoggedBook(),
  ]);
  const session = sessions.content.find((one) => one.id === logged.sessionId);
  const archer = session && archers.get(session.archerId);
  if (!session || !archer) return;
  if (session.face !== end.reading.face) {
    const face = say(FACES[session.face].name);
    throw new Refused(
      'another-face',
      say('There it was read as a {face}: correct it here, read it again as that, and keep it.', {
        face,
      }),
    );
  }
  const setUpId = await setUpHere(logged.setUpId);
  const { scoring } = logged;
  const said = { ...saidOf(session), archer: archer.name, setUpId, scoring };
  const settings = { ...end.settings, ...said };
  const plain = marksAsLogged(end.reading, logged.arrows).map((mark) =>
    plainMarkSchema.parse(mark),
  );
  const known = await knownOfBow(settings, { id, at: end.createdAt });
  const taken: KeptEnd = {
    ...end,
    settings,
    note: logged.notes,
    marks: plain,
    reading: judgedReading(end.reading, evaluate(end.reading, plain, settings, known)),
    sentRevision: end.revision,
    logVersion: version,
    conflict: null,
  };
  for (const open of openEnds.value) if (open.id === id) release(open);
  await db.put('ends', taken);
  await db.delete('drafts', id);
}

function saidOf({ distanceM, place, setting, wind }: Session) {
  return { distanceM, place, setting, wind };
}

/** The set-up of this device's book that the log has under an id; null where nobody wrote one down. */
async function setUpHere(logId: string): Promise<string | null> {
  const db = await database();
  const note = await db.get('inLog', `set-up:${logId}`);
  const id = note?.ownId ?? logId;
  return (await db.get('setUps', id)) ? id : null;
}
