import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A folder for one test file, removed after it. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-test-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
