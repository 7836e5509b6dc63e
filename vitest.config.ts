// For the threads in which tests run.
import './server/reading/keep-engine-silent.ts';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { findPostgres } from './tests/server/postgres/find-postgres.ts';
import { findBrowser } from './tests/web/find-browser.ts';

const hasBrowser = (await findBrowser()) !== null;
if (!hasBrowser && process.env['CI']) {
  throw new Error(
    'No Chromium, Chrome or Edge was found: the tests of the page would be left out.',
  );
}
const hasPostgres = findPostgres() !== null;
if (!hasPostgres && process.env['CI']) {
  throw new Error('No PostgreSQL was found: the tests with it would be left out.');
}

/**
 * Threads, in which the network takes one core each: two files share the two cores. From Node 24 on
 * better-sqlite3 brings a process down when a thread that used it ends.
 */
const pool = Number(process.versions.node.split('.')[0]) < 24 ? 'threads' : 'forks';

/** What takes longest: begun last, it would leave one core without work at the end. */
const LONGEST = [
  'tests/reading/',
  'tests/tuning/tuning-histories',
  'tests/fit/',
  'tests/marks/',
  'tests/server/cli/',
  'tests/server/log/',
  'tests/web/every-screen',
  'tests/web/read.',
  'tests/web/correct',
];

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => {
      const at = LONGEST.findIndex((folder) => moduleId.includes(folder));
      return at < 0 ? LONGEST.length : at;
    };
    return (await super.sort(files)).sort((a, b) => place(a) - place(b));
  }
}

const pageTests = {
  extends: true as const,
  test: {
    name: 'page',
    include: ['tests/web/**/*.test.ts'],
    // Builds the page once and serves it; it runs only when a test of the page does.
    globalSetup: ['tests/web/serve-built-page.ts'],
    // Files share a process's browser.
    isolate: false,
    // After the others: a browser that shares the cores with readings is slow to answer.
    sequence: { groupOrder: 1 },
    // A browser beside other work answers late, not never.
    testTimeout: 120_000,
  },
};

export default defineConfig({
  test: {
    environment: 'node',
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // What is waited for comes late on a busy machine.
    expect: { poll: { timeout: 30_000 } },
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    // The interop proxy would make the OpenCV module, which has a `then`, look like a promise.
    deps: { interopDefault: false },
    projects: [
      {
        extends: true,
        test: {
          name: 'code',
          pool,
          // Files share what they load: a third of the time would go into loading it for each of them.
          isolate: false,
          // A stand-in of one file must not answer in the next.
          restoreMocks: true,
          unstubEnvs: true,
          // `npm test` leaves out more, which only reaches projects that exclude nothing by themselves.
          include: ['tests/*.test.ts', 'tests/!(web)/**/*.test.ts'],
          globalSetup: [
            hasPostgres
              ? 'tests/server/postgres/share-postgres.ts'
              : 'tests/server/postgres/say-left-out.ts',
            ...(hasBrowser ? [] : ['tests/web/say-left-out.ts']),
          ],
        },
      },
      ...(hasBrowser ? [pageTests] : []),
    ],
  },
});
