import { cleanPhoto } from '../decode/clean-photo.ts';
import { decodePhoto } from '../decode/decode-photo.ts';
import { isBareJpeg } from '../decode/is-bare-jpeg.ts';
import { MAX_FILE_BYTES } from '../decode/limits.ts';
import { PhotoError } from '../decode/photo-error.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import { UNSAID_DISTANCES_SINCE, type Archive } from '../../src/tuning/record/archive.ts';
import type { LoggedEnd } from './from-rows.ts';
import { broken, openArchive, type OpenArchive } from './open-archive.ts';
import { explainStorage } from './explain-storage.ts';
import { notEmpty, type Log } from './log.ts';
import {
  madeUpDistance,
  madeUpWords,
  withoutMadeUp,
} from '../../src/tuning/record/made-up-distance.ts';
import { ownReferences } from './own-references.ts';
import { LogError, type LogErrorCode } from './log-error.ts';
import { sha256, type IncomingPhoto, type IncomingPhotos, type PhotoPlace } from './photo-store.ts';

/** How many ends and photos a log has once an archive was taken in. */
export interface TakenIn {
  readonly ends: number;
  readonly photos: number;
  /** What became of distances that an earlier endwise made up, a sentence. */
  readonly madeUp?: string | undefined;
}

/** What another try gets past; a disk that is full needs the room that was taken. */
const BROKE_OFF: ReadonlySet<LogErrorCode> = new Set([
  'disk-fault',
  'log-away',
  'log-busy',
  'read-only-log',
]);

/**
 * Fills an empty log from an archive; a try that broke off is gone on with. Photos are met as a stranger's are: each is decoded, and written
 * anew where it is more than a bare picture.
 * @throws LogError
 */
export async function takeArchiveIn(log: Log, path: string): Promise<TakenIn> {
  if ((await log.archers()).length > 0) throw notEmpty();
  const { incoming } = log.photos;
  let archive: OpenArchive | undefined;
  try {
    archive = await openArchive(path);
    const records = await checkedRecords(archive);
    const madeUp = madeUpIn(records);
    const whole = withoutMadeUpDistances(withOwnReferences(records), madeUp.yes);
    const ends: LoggedEnd[] = [];
    const photos: IncomingPhoto[] = [];
    for (const end of whole.ends) {
      if (end.photo === null) {
        ends.push(end);
        continue;
      }
      const sent = end.photo;
      const kept = (await incoming.stored(sent)) ?? (await storePhoto(incoming, archive, sent));
      const file = await incoming.freeName(sent);
      photos.push({ sent, file, endId: end.id });
      ends.push({ ...end, photo: { file, sha256: kept } });
    }
    await log.fill({ ...whole, ends }, photos);
    await incoming.forget();
    const kept = await log.ends();
    const words = madeUpWords(madeUp.ends.yes, madeUp.ends.perhaps);
    return {
      ends: kept.length,
      photos: kept.filter(({ photo }) => photo !== null).length,
      ...(words === null ? {} : { madeUp: words }),
    };
  } catch (error) {
    const explained = explainStorage(error);
    // Of what was refused nothing stays; what only broke off is gone on with.
    const isRefused = explained instanceof LogError && !BROKE_OFF.has(explained.code);
    if (isRefused) await incoming.forget();
    throw explained;
  } finally {
    archive?.close();
  }
}

/** Two of one id would become one, and fewer would be kept than there are. */
async function checkedRecords(archive: OpenArchive): Promise<Archive> {
  const records = await archive.records();
  for (const [what, things] of [
    ['archers', records.archers],
    ['bows', records.bows],
    ['set-ups', records.setUps],
    ['sessions', records.sessions],
    ['ends', records.ends],
  ] as const) {
    const twice = doubled(things.map(({ id }) => id));
    if (twice !== null) throw broken(`it holds two ${what} of the id "${twice}"`);
  }
  const files = records.ends.flatMap(({ photo }) => (photo === null ? [] : [photo.file]));
  const shared = doubled(files);
  if (shared !== null) throw broken(`two of its ends have the same photo, ${shared}`);
  for (const file of files) {
    if (!archive.has(file)) throw broken(`it lacks the photo ${file}`);
  }
  return records;
}

function doubled(ids: readonly string[]): string | null {
  const seen = new Set<string>();
  for (const id of ids) {
    if (seen.has(id)) return id.slice(0, 80);
    seen.add(id);
  }
  return null;
}

/** Sessions whose distance nobody said, in an archive of an endwise that made one up. */
function madeUpIn({ version, sessions, ends }: Archive) {
  const yes = new Set<string>();
  const count = { yes: 0, perhaps: 0, no: 0 };
  for (const session of version >= UNSAID_DISTANCES_SINCE ? [] : sessions) {
    const madeUp = madeUpDistance(session);
    count[madeUp] += ends.filter((end) => end.sessionId === session.id).length;
    if (madeUp === 'yes') yes.add(session.id);
  }
  return { yes, ends: count };
}

function withoutMadeUpDistances(
  whole: WholeLog<LoggedEnd>,
  madeUp: ReadonlySet<string>,
): WholeLog<LoggedEnd> {
  const sessions = whole.sessions.map((one) => (madeUp.has(one.id) ? withoutMadeUp(one) : one));
  return { ...whole, sessions };
}

/** Earlier endwise let ends name another archer's set-up, which that archer's export lacks. */
function withOwnReferences(archive: Archive): WholeLog<LoggedEnd> {
  const healed = ownReferences(archive);
  const session = new Map(healed.sessions.map((one) => [one.id, one]));
  const end = new Map(healed.ends.map((one) => [one.id, one]));
  return {
    archers: archive.archers,
    bows: [...archive.bows, ...healed.newBows],
    setUps: [...archive.setUps, ...healed.newSetUps],
    sessions: archive.sessions.map((one) => ({ ...one, ...session.get(one.id) })),
    ends: archive.ends.map((one) => ({ ...one, ...end.get(one.id) })),
  };
}

/** @returns the hash of what was stored */
async function storePhoto(
  incoming: IncomingPhotos,
  archive: OpenArchive,
  sent: PhotoPlace,
): Promise<string> {
  const { file } = sent;
  const bytes = await archive.photo(file, MAX_FILE_BYTES);
  if (sha256(bytes) !== sent.sha256) throw broken(`the photo ${file} was altered`);
  const clean = await bare(bytes).catch((error: unknown) => {
    if (!(error instanceof PhotoError)) throw error;
    throw broken(`the photo ${file} is none. ${error.message.replace(/\.$/, '')}`, error);
  });
  await incoming.store(sent, clean);
  return sha256(clean);
}

/** As it is where it is a bare picture already, so that photos do not fade with every move. */
async function bare(bytes: Buffer): Promise<Buffer> {
  if (!isBareJpeg(bytes)) return cleanPhoto(bytes);
  const { notes } = await decodePhoto(bytes);
  return notes.length === 0 ? bytes : cleanPhoto(bytes);
}
