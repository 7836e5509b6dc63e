import { join } from 'node:path';
import Database from 'better-sqlite3';
import { ARCHIVE_VERSION, UNSAID_DISTANCES_SINCE } from '../../src/tuning/record/archive.ts';
import type { ExportableLog } from './export-log.ts';
import { UNSAID_DISTANCES_FROM } from './migrations.ts';
import { DATABASE_FILE } from './open-database.ts';
import { PhotoFolder } from './photo-folder.ts';
import { readRecords } from './read-records.ts';
import { sqliteRows } from './sqlite-rows.ts';

/** A log that cannot be opened any more, for reading what is left of it; nothing is changed. */
export function openDamaged(folder: string): ExportableLog & { close(): void } {
  const connection = new Database(join(folder, DATABASE_FILE), {
    readonly: true,
    fileMustExist: true,
  });
  const layout = connection.pragma('user_version', { simple: true }) as number;
  return {
    archiveVersion: layout < UNSAID_DISTANCES_FROM ? UNSAID_DISTANCES_SINCE - 1 : ARCHIVE_VERSION,
    photos: new PhotoFolder(folder),
    readRecords: async (newVisitor) => readRecords(sqliteRows(connection), await newVisitor()),
    close: () => connection.close(),
  };
}
