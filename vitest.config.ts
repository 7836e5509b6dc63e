// For the threads in which tests run.
import './server/reading/keep-engine-silent.ts';
import { defineConfig } from 'vitest/config';
import { findBrowser } from './tests/web/find-browser.ts';

const hasBrowser = (await findBrowser()) !== null;
if (!hasBrowser && process.env['CI']) {
  throw new Error(
    'No Chromium, Chrome or Edge was found: the tests of the page would be left out.',
  );
}

/**
 * Threads, in which the network takes one core each: two files share the two cores. From Node 24 on
 * better-sqlite3 brings a process down when a thread that used it ends.
 */
const pool = Number(process.versions.node.split('.')[0]) < 24 ? 'threads' : 'forks';

const pageTests = {
  extends: true as const,
  test: {
    name: 'page',
    include: ['tests/web/**/*.test.ts'],
    // Builds the page once and serves it; it runs only when a test of the page does.
    globalSetup: ['tests/web/serve-built-page.ts'],
    fileParallelism: false,
    // One process for all files, so that they share one browser.
    isolate: false,
    // After the others: a browser that shares the cores with readings is slow to answer.
    sequence: { groupOrder: 1 },
    // A browser beside other work answers late, not never.
    testTimeout: 120_000,
    expect: { poll: { timeout: 30_000 } },
  },
};

export default defineConfig({
  test: {
    environment: 'node',
    testTimeout: 60_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
    // The interop proxy would make the OpenCV module, which has a `then`, look like a promise.
    deps: { interopDefault: false },
    projects: [
      {
        extends: true,
        test: {
          name: 'code',
          pool,
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/web/**'],
          globalSetup: hasBrowser ? [] : ['tests/web/say-left-out.ts'],
        },
      },
      ...(hasBrowser ? [pageTests] : []),
    ],
  },
});
