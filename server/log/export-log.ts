import { createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import {
  ARCHIVE_ENTRY,
  ARCHIVE_VERSION,
  MISSING_ENTRY,
  type Archive,
  type ArchiveNotes,
} from '../../src/tuning/record/archive.ts';
import { explainStorage } from './explain-storage.ts';
import type { LoggedEnd } from './from-rows.ts';
import { LogError } from './log-error.ts';
import type { PhotoStore } from './photo-store.ts';
import type { WhatIsThere } from './read-what-is-there.ts';
import { syncFolder } from '../files/write-file-durably.ts';

export interface ExportOptions {
  /** Only this archer and what belongs to them. @default everything */
  readonly archerId?: string;
}

/** A log, or what is left of one. */
export interface ExportableLog {
  readonly photos: Pick<PhotoStore, 'readSound'>;
  whatIsThere(): Promise<WhatIsThere>;
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
 * its name only when it is whole.
 */
export async function exportLog(
  log: ExportableLog,
  path: string,
  options: ExportOptions = {},
): Promise<Exported> {
  const there = await log.whatIsThere();
  const missing = missingFor(there, options);
  const zip = new ZipFile();
  const part = `${path}.part`;
  try {
    const failed = new Promise<never>((_, reject) => zip.on('error', reject));
    const written = pipeline(zip.outputStream, createWriteStream(part, { mode: 0o600 }));
    const adding = addAll(zip, log, there, options, missing);
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
  }
}

/** What is damaged may be anybody's: an archer alone learns that there is something, not what. */
function missingFor({ missing }: WhatIsThere, { archerId }: ExportOptions): string[] {
  if (archerId === undefined || missing.length === 0) return [...missing];
  return ['The log is damaged in places: what lies there is not in this archive.'];
}

async function addAll(
  zip: ZipFile,
  log: ExportableLog,
  there: WhatIsThere,
  { archerId }: ExportOptions,
  missing: string[],
): Promise<Omit<Exported, 'missing'>> {
  const archive = archiveOf(there, archerId, log.archiveVersion);
  const ends: LoggedEnd[] = [];
  let photos = 0;
  for (const end of archive.ends) {
    const bytes = await photoOf(log, end, missing);
    ends.push(bytes === null ? { ...end, photo: null } : end);
    if (bytes === null) continue;
    photos++;
    await added(zip, `photos/${end.photo!.file}`, bytes);
  }
  const notes: ArchiveNotes = {
    missing,
    unplaced: archerId === undefined ? there.unplaced : undefined,
  };
  const records = JSON.stringify({ ...archive, ends, ...(missing.length > 0 ? notes : {}) });
  zip.addBuffer(Buffer.from(records), ARCHIVE_ENTRY);
  if (missing.length > 0) zip.addBuffer(Buffer.from(`${missing.join('\n')}\n`), MISSING_ENTRY);
  zip.end();
  return { ends: ends.length, photos };
}

/** Null where an end has none, or where it is gone or damaged: that is noted. */
async function photoOf(
  log: ExportableLog,
  end: LoggedEnd,
  missing: string[],
): Promise<Buffer | null> {
  if (end.photo === null) return null;
  try {
    return await log.photos.readSound(end.photo);
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

function archiveOf(
  { whole }: WhatIsThere,
  archerId: string | undefined,
  version = ARCHIVE_VERSION,
): Archive {
  const own = (id: string) => archerId === undefined || id === archerId;
  const bows = whole.bows.filter((bow) => own(bow.archerId));
  const bowIds = new Set(bows.map((bow) => bow.id));
  const sessions = whole.sessions.filter((session) => own(session.archerId));
  const sessionIds = new Set(sessions.map((session) => session.id));
  return {
    format: 'endwise-log',
    version,
    exportedAt: new Date().toISOString(),
    archers: whole.archers.filter((archer) => own(archer.id)),
    bows,
    setUps: whole.setUps.filter((setUp) => bowIds.has(setUp.bowId)),
    sessions,
    ends: whole.ends.filter((end) => sessionIds.has(end.sessionId)),
  };
}
