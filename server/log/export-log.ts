import { createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import { ARCHIVE_ENTRY, ARCHIVE_VERSION, type Archive } from './archive.ts';
import { explainStorage } from './explain-storage.ts';
import type { Log } from './log.ts';
import { syncFolder } from './write-file-durably.ts';

export interface ExportOptions {
  /** Only this archer and what belongs to them. @default everything */
  readonly archerId?: string;
}

/**
 * Writes everything in the log, or everything of one archer, into one zip archive: the records as JSON
 * and the photos. The file appears under its name only when it is whole.
 */
export async function exportLog(
  log: Log,
  path: string,
  options: ExportOptions = {},
): Promise<{ ends: number; photos: number }> {
  const archive = await archiveOf(log, options);
  const zip = new ZipFile();
  zip.addBuffer(Buffer.from(JSON.stringify(archive, null, 1)), ARCHIVE_ENTRY);
  const files = archive.ends.flatMap(({ photo }) => (photo === null ? [] : [photo.file]));
  for (const file of files) {
    zip.addReadStreamLazy(`photos/${file}`, { compress: false }, (hand) => {
      log.photos.read(file).then(
        (bytes) => hand(null, readableOf(bytes)),
        (error: unknown) => hand(error as Error, readableOf(Buffer.alloc(0))),
      );
    });
  }
  zip.end();
  const part = `${path}.part`;
  try {
    const failed = new Promise<never>((_, reject) => zip.on('error', reject));
    await Promise.race([
      pipeline(zip.outputStream, createWriteStream(part, { mode: 0o600 })),
      failed,
    ]);
    const file = await open(part, 'r+');
    await file.sync().finally(() => file.close());
    await rename(part, path);
    await syncFolder(dirname(path));
  } catch (error) {
    await rm(part, { force: true });
    throw explainStorage(error);
  }
  return { ends: archive.ends.length, photos: files.length };
}

async function archiveOf(log: Log, { archerId }: ExportOptions): Promise<Archive> {
  const whole = await log.everything();
  const own = (id: string) => archerId === undefined || id === archerId;
  const bows = whole.bows.filter((bow) => own(bow.archerId));
  const bowIds = new Set(bows.map((bow) => bow.id));
  const sessions = whole.sessions.filter((session) => own(session.archerId));
  const sessionIds = new Set(sessions.map((session) => session.id));
  return {
    format: 'endwise-log',
    version: ARCHIVE_VERSION,
    exportedAt: new Date().toISOString(),
    archers: whole.archers.filter((archer) => own(archer.id)),
    bows,
    setUps: whole.setUps.filter((setUp) => bowIds.has(setUp.bowId)),
    sessions,
    ends: whole.ends.filter((end) => sessionIds.has(end.sessionId)),
  };
}

function readableOf(bytes: Buffer): Readable {
  return Readable.from([bytes]);
}
