import { mkdtempSync, rmSync } from 'node:fs';
import { afterAll } from 'vitest';
import { folderPrefix } from './folders-of-runs.ts';

/** A folder for one test file, removed after it. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(folderPrefix());
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
