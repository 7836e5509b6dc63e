import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A private folder for uploads, gone with the server. */
export async function uploadFolder(): Promise<{ path: string; remove: () => Promise<void> }> {
  const path = await mkdtemp(join(tmpdir(), 'endwise-uploads-'));
  return { path, remove: () => rm(path, { recursive: true, force: true }) };
}
