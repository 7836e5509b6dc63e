import { cleanPhoto } from '../decode/clean-photo.ts';
import { decodePhoto } from '../decode/decode-photo.ts';
import { isBareJpeg } from '../decode/is-bare-jpeg.ts';
import { MAX_FILE_BYTES } from '../decode/limits.ts';
import { PhotoError } from '../decode/photo-error.ts';
import {
  madeUpDistance,
  madeUpWords,
  withoutMadeUp,
} from '../../src/tuning/record/made-up-distance.ts';
import { UNSAID_DISTANCES_SINCE } from '../../src/tuning/record/archive.ts';
import { broken } from './broken-archive.ts';
import { checkArchive, type CheckedArchive } from './check-archive.ts';
import { explainStorage } from './explain-storage.ts';
import type { LoggedEnd } from './from-rows.ts';
import { notEmpty, type Log } from './log.ts';
import { LogError, type LogErrorCode } from './log-error.ts';
import { openArchive, type OpenArchive } from './open-archive.ts';
import { ownReferences } from './own-references.ts';
import { sha256, type IncomingPhoto, type IncomingPhotos, type PhotoPlace } from './photo-store.ts';
import { COMMAND_LINE, type Actor } from './trail.ts';

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

/** Photos that are looked at and stored together. */
const PHOTOS_AT_ONCE = 16;

/**
 * Fills an empty log from an archive; a try that broke off is gone on with. Its records are read twice, to check
 * them and to keep them, so that no more than some of its ends are held. Photos are met as a stranger's are:
 * each is decoded, and written anew where it is more than a bare picture.
 * @throws LogError
 */
export async function takeArchiveIn(
  log: Log,
  path: string,
  by: Actor = COMMAND_LINE,
): Promise<TakenIn> {
  if ((await log.archers()).length > 0) throw notEmpty();
  const { incoming } = log.photos;
  let archive: OpenArchive | undefined;
  try {
    archive = await openArchive(path);
    const checked = await checkArchive(archive);
    const madeUp = madeUpIn(checked);
    const healed = withOwnReferences(checked);
    const photos: IncomingPhoto[] = [];
    const places = new Map<string, PhotoPlace>();
    for (let from = 0; from < checked.photos.length; from += PHOTOS_AT_ONCE) {
      const some = checked.photos.slice(from, from + PHOTOS_AT_ONCE);
      const kept = await storePhotos(incoming, archive, some);
      for (const { endId, sent } of some) {
        const file = await incoming.freeName(sent);
        photos.push({ sent, file, endId });
        places.set(endId, { file, sha256: kept.get(sent.file)! });
      }
    }
    const { archers, bows, setUps, sessions, endOf } = healed;
    await log.fill(
      {
        archers,
        bows,
        setUps,
        sessions: sessions.map((one) => (madeUp.yes.has(one.id) ? withoutMadeUp(one) : one)),
        ends: () =>
          endsOf(archive!, (end) => ({ ...endOf(end), photo: places.get(end.id) ?? null })),
      },
      photos,
      by,
    );
    await incoming.forget();
    const words = madeUpWords(madeUp.ends.yes, madeUp.ends.perhaps);
    return { ...(await log.counts()), ...(words === null ? {} : { madeUp: words }) };
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

/** The ends of an archive that was checked, some at a time. */
async function* endsOf(
  archive: OpenArchive,
  made: (end: LoggedEnd) => LoggedEnd,
): AsyncGenerator<LoggedEnd[]> {
  for await (const values of archive.values()) {
    yield values.flatMap((one) => (one.kind === 'ends' ? [made(one.value)] : []));
  }
}

/** Sessions whose distance nobody said, in an archive of an endwise that made one up. */
function madeUpIn({ version, sessions, ends }: CheckedArchive) {
  const yes = new Set<string>();
  const count = { yes: 0, perhaps: 0, no: 0 };
  if (version >= UNSAID_DISTANCES_SINCE) return { yes, ends: count };
  const of = new Map(sessions.map((session) => [session.id, madeUpDistance(session)]));
  for (const [id, madeUp] of of) if (madeUp === 'yes') yes.add(id);
  for (const { sessionId } of ends) count[of.get(sessionId) ?? 'no']++;
  return { yes, ends: count };
}

/** Earlier endwise let ends name another archer's set-up, which that archer's export lacks. */
function withOwnReferences(archive: CheckedArchive) {
  const healed = ownReferences(archive);
  const session = new Map(healed.sessions.map((one) => [one.id, one]));
  const end = new Map(healed.ends.map((one) => [one.id, one]));
  return {
    archers: archive.archers,
    bows: [...archive.bows, ...healed.newBows],
    setUps: [...archive.setUps, ...healed.newSetUps],
    sessions: archive.sessions.map((one) => ({ ...one, ...session.get(one.id) })),
    endOf: (one: LoggedEnd): LoggedEnd => ({ ...one, ...end.get(one.id) }),
  };
}

/** @returns hashes of what is stored, by the files' names in the archive */
async function storePhotos(
  incoming: IncomingPhotos,
  archive: OpenArchive,
  photos: readonly { readonly sent: PhotoPlace }[],
): Promise<ReadonlyMap<string, string>> {
  const sent = photos.map((photo) => photo.sent);
  const kept = new Map(await incoming.stored(sent));
  const left = sent.filter(({ file }) => !kept.has(file));
  const made: { sent: PhotoPlace; clean: Uint8Array }[] = [];
  for (const place of left) made.push({ sent: place, clean: await cleanOf(archive, place) });
  if (made.length > 0) await incoming.store(made);
  for (const one of made) kept.set(one.sent.file, sha256(one.clean));
  return kept;
}

async function cleanOf(archive: OpenArchive, { file, sha256: sent }: PhotoPlace): Promise<Buffer> {
  const bytes = await archive.photo(file, MAX_FILE_BYTES);
  if (sha256(bytes) !== sent) throw broken(`the photo ${file} was altered`);
  return bare(bytes).catch((error: unknown) => {
    if (!(error instanceof PhotoError)) throw error;
    throw broken(`the photo ${file} is none. ${error.message.replace(/\.$/, '')}`, error);
  });
}

/** As it is where it is a bare picture already, so that photos do not fade with every move. */
async function bare(bytes: Buffer): Promise<Buffer> {
  if (!isBareJpeg(bytes)) return cleanPhoto(bytes);
  const { notes } = await decodePhoto(bytes);
  return notes.length === 0 ? bytes : cleanPhoto(bytes);
}
