import { createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import { ARCHIVE_ENTRY, ARCHIVE_VERSION, MISSING_ENTRY } from '../../src/tuning/record/archive.ts';
import type { Bow } from '../../src/tuning/bow/set-up.ts';
import type { Session } from '../../src/tuning/record/session.ts';
import { explainStorage } from './explain-storage.ts';
import type { LoggedEnd } from './from-rows.ts';
import { LogError } from './log-error.ts';
import type { PhotoStore } from './photo-store.ts';
import type { LogRecord, RecordVisitor } from './read-records.ts';
import { KINDS, RecordSpool } from './record-spool.ts';
import { syncFolder } from '../files/write-file-durably.ts';

export interface ExportOptions {
  /** Only this archer and what belongs to them. @default everything */
  readonly archerId?: string;
}

/** A log, or what is left of one. */
export interface ExportableLog {
  readonly photos: Pick<PhotoStore, 'readSound'>;
  readRecords(newVisitor: () => RecordVisitor | Promise<RecordVisitor>): Promise<void>;
  /** Of the archive that holds such a log. @default ARCHIVE_VERSION */
  readonly archiveVersion?: number;
}

export interface Exported {
  readonly ends: number;
  readonly photos: number;
  /** What is not in the archive, each a sentence. */
  readonly missing: readonly string[];
}

/**
 * Writes what is in the log, or all of one archer, into one zip archive: the records as JSON and the
 * photos. What cannot be read is left out and listed, also within the archive. The file appears under
 * its name only when it is whole. No more than a few records and one photo are held at a time.
 */
export async function exportLog(
  log: ExportableLog,
  path: string,
  options: ExportOptions = {},
): Promise<Exported> {
  const spool = new RecordSpool(path);
  const zip = new ZipFile();
  const part = `${path}.part`;
  try {
    const missing = await readInto(spool, log, options);
    const failed = new Promise<never>((_, reject) => zip.on('error', reject));
    const written = pipeline(zip.outputStream, createWriteStream(part, { mode: 0o600 }));
    const adding = addAll(zip, log, spool, options, missing);
    const [counts] = await Promise.race([Promise.all([adding, written]), failed]);
    const file = await open(part, 'r+');
    await file.sync().finally(() => file.close());
    await rename(part, path);
    await syncFolder(dirname(path));
    return { ...counts, missing };
  } catch (error) {
    (zip.outputStream as Readable).destroy();
    await rm(part, { force: true });
    throw explainStorage(error);
  } finally {
    await spool.remove();
  }
}

/** @returns what cannot be read */
async function readInto(
  spool: RecordSpool,
  log: ExportableLog,
  { archerId }: ExportOptions,
): Promise<string[]> {
  let missing: string[] = [];
  await log.readRecords(async () => {
    await spool.begin();
    missing = [];
    const isOwn = archerId === undefined ? () => true : ownOf(archerId);
    return {
      record: async (one) => {
        if (isOwn(one) && (one.isPlaced || archerId === undefined)) await spool.add(one);
      },
      missing: (sentence) => void missing.push(sentence),
    };
  });
  // What is damaged may be anybody's: an archer alone learns that there is something, not what.
  if (archerId === undefined || missing.length === 0) return missing;
  return ['The log is damaged in places: what lies there is not in this archive.'];
}

/** Whether a record is of an archer; to be asked of all, as they come. */
function ownOf(archerId: string): (one: LogRecord) => boolean {
  const bows = new Set<string>();
  const sessions = new Set<string>();
  const noted = (ids: Set<string>, { id, archerId: of }: Bow | Session) => {
    if (of === archerId) ids.add(id);
    return of === archerId;
  };
  return ({ kind, record }) => {
    switch (kind) {
      case 'archers':
        return record.id === archerId;
      case 'bows':
        return noted(bows, record);
      case 'setUps':
        return bows.has(record.bowId);
      case 'sessions':
        return noted(sessions, record);
      case 'ends':
        return sessions.has(record.sessionId);
    }
  };
}

async function addAll(
  zip: ZipFile,
  log: ExportableLog,
  spool: RecordSpool,
  { archerId }: ExportOptions,
  missing: string[],
): Promise<Omit<Exported, 'missing'>> {
  const lacking = new Set<string>();
  const counts = { ends: 0, photos: 0 };
  for await (const end of spool.records('ends')) {
    counts.ends++;
    if (end.photo === null) continue;
    const bytes = await photoOf(log, end, missing);
    if (bytes === null) {
      lacking.add(end.id);
      continue;
    }
    counts.photos++;
    await added(zip, `photos/${end.photo.file}`, bytes);
  }
  const about = {
    format: 'endwise-log',
    version: log.archiveVersion ?? ARCHIVE_VERSION,
    exportedAt: new Date().toISOString(),
  };
  const notes = missing.length === 0 ? null : { missing, withUnplaced: archerId === undefined };
  const records = Readable.from(recordsJson(about, spool, lacking, notes));
  // The archive's own streams do not hear of it, and nobody else would.
  records.once('error', (error) => zip.emit('error', error));
  zip.addReadStream(records, ARCHIVE_ENTRY);
  if (notes !== null) zip.addBuffer(Buffer.from(`${missing.join('\n')}\n`), MISSING_ENTRY);
  zip.end();
  return counts;
}

/**
 * The archive's records as JSON, piece by piece.
 * @param lacking ids of ends whose photo is not in the archive
 * @param notes of no use to an import, so that nothing is lost: what could not be exported, each a sentence,
 * and records that hang on something that is missing
 */
async function* recordsJson(
  about: object,
  spool: RecordSpool,
  lacking: ReadonlySet<string>,
  notes: { readonly missing: readonly string[]; readonly withUnplaced: boolean } | null,
): AsyncGenerator<string> {
  yield JSON.stringify(about).slice(0, -1);
  for (const kind of KINDS) {
    yield `,"${kind}":`;
    yield* kind === 'ends' ? list(withoutPhotos(spool, lacking)) : list(spool.records(kind));
  }
  if (notes !== null) yield `,"missing":${JSON.stringify(notes.missing)}`;
  if (notes?.withUnplaced) {
    let before = ',"unplaced":{';
    for (const kind of KINDS) {
      yield `${before}"${kind}":`;
      yield* list(spool.records(kind, false));
      before = ',';
    }
    yield '}';
  }
  yield '}';
}

async function* withoutPhotos(
  spool: RecordSpool,
  lacking: ReadonlySet<string>,
): AsyncGenerator<LoggedEnd> {
  for await (const end of spool.records('ends')) {
    yield lacking.has(end.id) ? { ...end, photo: null } : end;
  }
}

async function* list(values: AsyncIterable<unknown>): AsyncGenerator<string> {
  let before = '[';
  for await (const value of values) {
    yield before + JSON.stringify(value);
    before = ',';
  }
  yield before === '[' ? '[]' : ']';
}

/** Null where it is gone or damaged: that is noted. */
async function photoOf(
  log: ExportableLog,
  end: LoggedEnd,
  missing: string[],
): Promise<Buffer | null> {
  try {
    return await log.photos.readSound(end.photo!);
  } catch (error) {
    if (!(error instanceof LogError)) throw error;
    missing.push(`The end of ${end.shotAt.slice(0, 16)} lacks its photo. ${error.message}`);
    return null;
  }
}

/** One photo after another: none but the one being written is held. */
function added(zip: ZipFile, name: string, bytes: Buffer): Promise<void> {
  return new Promise((resolve) => {
    const stream = Readable.from([bytes]);
    stream.once('close', resolve);
    zip.addReadStream(stream, name, { compress: false });
  });
}
