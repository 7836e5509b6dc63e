import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { runEndwise } from '../cli/run-endwise.ts';
import { fillSample } from '../log/sample-log.ts';
import { findPostgres } from '../postgres/find-postgres.ts';
import { databaseOfTests, hasPostgres } from '../postgres/postgres-of-tests.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { queueOfTests, submissionOf, workerOfTests } from './queue-of-tests.ts';

const folder = temporaryFolder();

describe.skipIf(!hasPostgres)('a batch with a queue', () => {
  it('is read by workers, one line per photo, and says what is not there', async () => {
    const queue = await queueOfTests();
    const { url, readings } = queue;
    mkdirSync(join(folder, 'photos'));
    for (const name of ['a', 'b']) writeFileSync(join(folder, 'photos', `${name}.jpg`), name);
    writeFileSync(join(folder, 'evening.csv'), 'photo,archer\nphotos/a.jpg,Ilka Brandt\nphotos/b.jpg,guest\nphotos/a.jpg,\nnone.jpg,\n'); // prettier-ignore
    const out = join(folder, 'results.jsonl');
    const log = await Log.open(url);
    onTestFinished(() => log.close());
    await fillSample(log);
    const { ended } = workerOfTests(queue);
    const args = ['batch', join(folder, 'evening.csv'), '--out', out, '--database', url];
    await runEndwise(args, folder);
    const lines = readFileSync(out, 'utf8').trim().split('\n').map((line) => JSON.parse(line) as { photo: string; error: { code: string; message: string } }); // prettier-ignore
    expect(lines.map(({ photo, error }) => `${photo} ${error.code}`).sort()).toEqual([
      'none.jpg no-file',
      'photos/a.jpg no-face',
      'photos/a.jpg no-face',
      'photos/b.jpg no-face',
    ]);
    expect(ended).toHaveLength(3);
    expect(await readings.figures()).toMatchObject({ waiting: 0, kept: 3 });
    // What is known to be an archer's goes with them.
    await log.deleteArcher('ilka');
    expect(await readings.figures()).toMatchObject({ waiting: 0, kept: 2 });
  });

  it('jobs lists what was set aside, puts it back and forgets it', async () => {
    const { url, store, readings } = await queueOfTests();
    const id = await readings.submit(submissionOf('a'));
    for (let deaths = 0; deaths < 2; deaths++) await store.lose((await store.take())!);
    const jobs = (...args: string[]) => runEndwise(['jobs', '--database', url, ...args], folder);
    const { stdout } = await jobs();
    expect(stdout).toContain('0 wait; 0 are being read; 0 results are kept; 1 were set aside.');
    expect(stdout).toContain(id);
    expect(await jobs('--again', id)).toMatchObject({ status: 0 });
    expect(await readings.figures()).toMatchObject({ waiting: 1, setAside: 0 });
    expect(await jobs('--drop', id)).toMatchObject({ status: 0 });
    expect(await jobs('--drop', id)).toMatchObject({ status: 2 });
  });

  it('says in one sentence where there is no queue', async () => {
    for (const command of [['worker'], ['jobs'], ['jobs', '--database', 'mysql://x/y']]) {
      const { status, stderr } = await runEndwise(command, folder);
      expect(status).toBeGreaterThan(0);
      expect(stderr).toMatch(/^endwise: [^\n]+\.\)?\n$/);
    }
    const away = await runEndwise(['worker', '--database', 'postgres://x@127.0.0.1:1/y'], folder);
    expect([away.status, away.stderr]).toEqual([1, expect.stringMatching(/^endwise: No PostgreSQL answers at 127\.0\.0\.1:1[^\n]*\.\n$/)]); // prettier-ignore
  });

  it('is in a backup, and read after it was put back', async () => {
    const { url, readings } = await queueOfTests();
    const id = await readings.submit(submissionOf('kept'));
    const program = (name: string, ...args: string[]) =>
      execFileSync(join(findPostgres()!, name), args, { stdio: ['ignore', 'ignore', 'inherit'] });
    const dump = join(folder, 'endwise.dump');
    program('pg_dump', '--format=custom', `--file=${dump}`, url);
    const other = await databaseOfTests();
    program('pg_restore', '--no-owner', `--dbname=${other}`, dump);
    const restored = await queueOfTests({ url: other });
    workerOfTests(restored);
    expect(await restored.readings.follow(id)).toMatchObject({
      standing: { outcome: { error: { message: 'kept' } } },
    });
  });
});
