import { mkdtemp, rm } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';
import { build } from 'vite';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { noFacePool } from '../server/http/no-face-pool.ts';
import { Log } from '../../server/log/log.ts';
import { listen } from '../../server/http/listen.ts';
import { folderPrefix, removeLeftBehind } from '../server/folders-of-runs.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Where the built page is served, with the headers of the real server. */
    pageUrl: string;
    /** A folder for files of the tests; it goes after them. */
    pageFolder: string;
  }
}

/** Builds the page and serves it as `npm start` does, but for the reading of photos on the server. */
export default async function serveBuiltPage(project: TestProject): Promise<() => Promise<void>> {
  const root = fileURLToPath(new URL('../../', import.meta.url));
  await build({ configFile: `${root}vite.config.ts`, logLevel: 'error' });
  removeLeftBehind();
  const folder = await mkdtemp(folderPrefix());
  const log = await Log.open(folder);
  const app = appOfTests({
    pool: {
      ...noFacePool,
      read: () => Promise.reject(new Error('The page reads photos by itself.')),
    },
    webFolder: `${root}dist/web/`,
    uploadFolder: folder,
    log,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  project.provide('pageUrl', server.url);
  project.provide('pageFolder', folder);
  return async () => {
    await server.close();
    await log.close();
    await rm(folder, { recursive: true });
  };
}
