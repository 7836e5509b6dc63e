import { spawnSync } from 'node:child_process';
import { chownSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { listen } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import { appOfTests } from '../http/app-of-tests.ts';
import { asked } from '../log/engines.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { databaseOfTests, hasPostgres } from '../postgres/postgres-of-tests.ts';
import { startPostgres, type Postgres } from '../postgres/start-postgres.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { queueOfTests, readWords, submissionOf, workerOfTests } from './queue-of-tests.ts';

const PASSWORD = 'lapwing';
const PATIENCE_MS = 150;

/** A database of an ordinary user, and what its keeper may do to it. */
async function databaseOfUser() {
  const keeper = await databaseOfTests();
  const name = new URL(keeper).pathname.slice(1);
  const user = `user_${name}`;
  const alter = (text: string) =>
    asked(keeper, text.replaceAll('USER_', user).replaceAll('DATABASE_', name));
  await alter(`CREATE ROLE USER_ LOGIN PASSWORD '${PASSWORD}'`);
  await alter('ALTER DATABASE DATABASE_ OWNER TO USER_');
  const url = new URL(keeper);
  [url.username, url.password] = [user, PASSWORD];
  const kick = () =>
    asked(
      keeper,
      'SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = $1 AND datname = $2',
      [user, name],
    );
  return { url: url.href, keeper, alter, kick };
}

/** A server and what stands behind it, with little patience. */
async function serverOn(url: string) {
  const queue = await queueOfTests({ url, patienceMs: PATIENCE_MS });
  const log = await Log.open(url, { patienceMs: PATIENCE_MS });
  const uploadFolder = temporaryFolder();
  const app = appOfTests({ readings: queue.readings, log, uploadFolder, webFolder: uploadFolder });
  const { url: at, close } = await listen(app, { host: '127.0.0.1', port: 0 });
  onTestFinished(async () => {
    await close();
    await log.close();
  });
  return { ...queue, log, at };
}

interface Answer {
  readonly status: number;
  readonly after: string | null;
  readonly json: { id?: string; error?: { code: string; message: string } } | null;
}

async function ask(at: string, path: string, init: RequestInit = {}): Promise<Answer> {
  const response = await fetch(new URL(path, at), init);
  const text = await response.text();
  const json = text === '' ? null : (JSON.parse(text) as Answer['json']);
  return { status: response.status, after: response.headers.get('retry-after'), json };
}

const send = (at: string) => {
  const body = new FormData();
  body.append('photo', new Blob(['meadow']));
  return ask(at, 'api/readings', { method: 'POST', body, headers: { prefer: 'respond-async' } });
};
const remove = (at: string) => ask(at, 'api/log/ends/ilka-end-1', { method: 'DELETE' });

/** As a disk that is full, or a machine that is slow, has it for whatever is written. */
const onWrite = (does: string) => `
  CREATE FUNCTION on_write() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN ${does}; RETURN NULL; END $$;
  CREATE TRIGGER on_write BEFORE INSERT OR UPDATE OR DELETE ON public.ends
    FOR EACH STATEMENT EXECUTE FUNCTION on_write();
  CREATE TRIGGER on_write BEFORE INSERT OR UPDATE OR DELETE ON endwise_readings.reading
    FOR EACH STATEMENT EXECUTE FUNCTION on_write();`;
const FULL = onWrite("RAISE EXCEPTION 'could not extend file' USING ERRCODE = '53100'");
const MENDED = 'DROP FUNCTION on_write CASCADE';

const FAULTS = [
  {
    what: 'lets no more connections in',
    breaks: 'ALTER ROLE USER_ CONNECTION LIMIT 0',
    mends: 'ALTER ROLE USER_ CONNECTION LIMIT -1',
    code: 'log-busy',
    says: 'raise its max_connections',
  },
  {
    what: 'has another password',
    breaks: "ALTER ROLE USER_ PASSWORD 'plover'",
    mends: `ALTER ROLE USER_ PASSWORD '${PASSWORD}'`,
    code: 'bad-database',
    says: 'look at its user and password',
  },
  {
    what: 'only lets read',
    breaks: 'ALTER ROLE USER_ SET default_transaction_read_only = on',
    mends: 'ALTER ROLE USER_ RESET default_transaction_read_only',
    code: 'read-only-log',
    says: 'name the one that is written to',
    letsRead: true,
  },
  { what: 'is full', breaks: FULL, mends: MENDED, code: 'disk-full', says: 'make room', letsRead: true }, // prettier-ignore
] as const;

describe.skipIf(!hasPostgres)('a database that', () => {
  it.each(FAULTS)('$what is said in a sentence, and used again once it is well', async (fault) => {
    const database = await databaseOfUser();
    const { at, log, readings } = await serverOn(database.url);
    await fillSample(log);
    await log.putEnd(sampleEnd('ilka', 1));
    await database.alter(fault.breaks);
    await database.kick();
    const answers = [await send(at), await remove(at)];
    if (!('letsRead' in fault)) answers.push(await ask(at, 'api/log/ends'));
    for (const { status, after, json } of answers) {
      expect([status, after]).toEqual([fault.code === 'disk-full' ? 507 : 503, '30']);
      expect(json!.error!.code).toBe(fault.code);
      expect(json!.error!.message).toMatch(/^[A-Z][^\n]*[^.\n]\.$/);
      expect(json!.error!.message).toContain(fault.says);
    }
    if ('letsRead' in fault) expect((await ask(at, 'api/log/ends')).status).toBe(200);
    if (fault.code !== 'disk-full') expect((await ask(at, 'api/ready')).status).toBe(503);
    await database.alter(fault.mends);
    // Whoever was let in before stays as they were.
    await database.kick();
    await expect.poll(async () => (await ask(at, 'api/ready')).status).toBe(200);
    expect((await log.ends()).map(({ id }) => id)).toEqual(['ilka-end-1']);
    expect(await readings.figures()).toMatchObject({ waiting: 0, kept: 0 });
    expect((await send(at)).status).toBe(202);
    expect((await remove(at)).status).toBe(204);
  });

  it('gives up what takes too long is said in a sentence', async () => {
    const database = await databaseOfUser();
    const log = await Log.open(database.url, { patienceMs: PATIENCE_MS });
    onTestFinished(() => log.close());
    await fillSample(log);
    await database.alter('ALTER ROLE USER_ SET statement_timeout = 100');
    await database.kick();
    const held = new Client({ connectionString: database.keeper });
    await held.connect();
    await held.query('BEGIN; LOCK TABLE ends');
    await expect(log.putEnd(sampleEnd('ilka', 1))).rejects.toMatchObject({
      code: 'log-busy',
      message: expect.stringContaining('statement_timeout') as string,
    });
    await held.end();
    await log.putEnd(sampleEnd('ilka', 1));
  });

  it('has lost its tables is said in a sentence', async () => {
    const database = await databaseOfUser();
    const { at } = await serverOn(database.url);
    await database.alter('ALTER SCHEMA public RENAME TO elsewhere');
    const { status, json } = await ask(at, 'api/log/ends');
    expect([status, json!.error!.code]).toEqual([503, 'bad-database']);
    await database.alter('ALTER SCHEMA elsewhere RENAME TO public');
    expect((await ask(at, 'api/log/ends')).status).toBe(200);
  });

  it('loses a connection in the middle of an upload or of keeping has everything once', async () => {
    const { url, store, news, readings } = await queueOfTests();
    const log = await Log.open(url);
    onTestFinished(() => log.close());
    await fillSample(log);
    const broken = async (table: string, work: () => Promise<unknown>) => {
      const held = new Client({ connectionString: url });
      await held.connect();
      await held.query(`BEGIN; LOCK TABLE ${table}`);
      const done = work();
      const waits = `datname = current_database() AND wait_event_type = 'Lock' AND pid <> pg_backend_pid()`;
      const kicks = `SELECT pg_terminate_backend(pid) AS gone FROM pg_stat_activity WHERE ${waits}`;
      await expect.poll(() => asked(url, kicks)).toEqual([{ gone: true }]);
      await held.end();
      return done;
    };
    const photo = new Uint8Array(1_000_000).fill(7);
    const submission = submissionOf('');
    const job = { ...submission.job, photo: { bytes: photo } };
    await broken('endwise_readings.photo_part', () => readings.submit({ ...submission, job }));
    const parts = 'SELECT count(*)::int AS n, sum(octet_length(bytes))::int AS bytes FROM endwise_readings.photo_part'; // prettier-ignore
    expect(await asked(url, parts)).toEqual([{ n: 4, bytes: 1_000_000 }]);
    let reads = 0;
    await broken('endwise_readings.photo_part IN EXCLUSIVE MODE', async () => {
      workerOfTests({ store, news }, { read: (one) => (reads++, readWords(one)) });
      await expect.poll(() => readings.figures()).toMatchObject({ kept: 1, waiting: 0 });
    });
    expect(reads).toBe(1);
    await broken('ends', () => log.putEnd(sampleEnd('ilka', 1)));
    expect(await log.ends()).toHaveLength(1);
  });

  it('is full while a result is kept loses neither that nor blames the photo', async () => {
    const { url, store, news, readings } = await queueOfTests();
    let reads = 0;
    let isRead = () => undefined;
    const read = new Promise<undefined>(
      (resolve) => (isRead = () => resolve(undefined) as undefined),
    );
    const { ended } = workerOfTests(
      { store, news },
      {
        read: async (job) => {
          reads++;
          await asked(url, FULL);
          isRead();
          return readWords(job);
        },
      },
    );
    const id = await readings.submit(submissionOf('meadow'));
    await read;
    const lapsed = 'SELECT 1 FROM endwise_readings.reading WHERE lease_until < now()';
    await expect.poll(() => asked(url, lapsed), { timeout: 5_000 }).toHaveLength(1);
    // Others look for it meanwhile, and find nobody to blame.
    await new Promise((resolve) => setTimeout(resolve, 1_500));
    await asked(url, MENDED);
    expect(await readings.follow(id)).toMatchObject({ standing: { outcome: { error: { message: 'meadow' } } } }); // prettier-ignore
    expect([reads, ended.map(({ what }) => what)]).toEqual([1, ['read']]);
  });

  it('does not tell of a job is asked for it', async () => {
    const queue = await queueOfTests();
    workerOfTests(queue);
    const trigger = (does: string) =>
      asked(queue.url, `ALTER TABLE endwise_readings.reading ${does} TRIGGER tell`);
    await trigger('DISABLE');
    const id = await queue.readings.submit(submissionOf('meadow'));
    // As on every new connection: what came before is told to nobody.
    const kicks = "SELECT pg_terminate_backend(pid) AS gone FROM pg_stat_activity WHERE query LIKE 'LISTEN%' AND datname = current_database()"; // prettier-ignore
    expect(await asked(queue.url, kicks)).toContainEqual({ gone: true });
    expect(await queue.readings.follow(id)).toMatchObject({ standing: { state: 'read' } });
  });

  it('a photo could not be read for serves the next', async () => {
    const { readings } = await queueOfTests({ most: 1 });
    const submission = submissionOf('');
    const job = { ...submission.job, photo: { path: '/nowhere' } };
    await expect(readings.submit({ ...submission, job })).rejects.toMatchObject({ code: 'ENOENT' });
    await readings.submit(submissionOf('meadow'));
    expect(await readings.figures()).toMatchObject({ waiting: 1 });
  });
});

describe.skipIf(!hasPostgres)('a PostgreSQL', () => {
  let postgres: Postgres;
  beforeAll(async () => {
    postgres = await startPostgres();
  });
  afterAll(() => postgres.stop());

  it('that is a standby lets read, says so of writing, and is written to when it takes over', async () => {
    const before = await Log.open(postgres.url);
    await fillSample(before);
    await before.putEnd(sampleEnd('ilka', 1));
    await before.close();
    await (await queueOfTests({ url: postgres.url })).readings.close();
    const standby = await startPostgres({ standbyOf: postgres });
    onTestFinished(() => standby.stop());
    const log = await Log.open(standby.url, { patienceMs: PATIENCE_MS });
    onTestFinished(() => log.close());
    expect(await log.ends()).toHaveLength(1);
    const readOnly = { code: 'read-only-log' };
    await expect(log.putEnd(sampleEnd('ilka', 2))).rejects.toMatchObject(readOnly);
    await expect(queueOfTests({ url: standby.url })).rejects.toMatchObject(readOnly);
    await asked(standby.url, 'SELECT pg_promote()');
    await log.putEnd(sampleEnd('ilka', 2));
    expect(await log.ends()).toHaveLength(2);
    const { readings } = await queueOfTests({ url: standby.url });
    await readings.submit(submissionOf('meadow'));
  });

  it('that wants or lacks encryption, or shows a certificate of nobody known, is said so', async () => {
    const verified = `${postgres.url}?sslmode=verify-full`;
    const refused = (address: string, says: string) =>
      expect(Log.open(address)).rejects.toMatchObject({
        code: 'bad-database',
        message: expect.stringContaining(says) as string,
      });
    await refused(verified, 'offers no encrypted connections');
    await refused(`${verified}&sslrootcert=/nowhere.crt`, 'The file /nowhere.crt,');
    const data = join(postgres.folder, 'data');
    const own = ['server.key', 'server.crt'].map((name) => join(data, name)) as [string, string];
    const made = spawnSync('openssl', ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-subj', '/CN=meadow.example', '-keyout', own[0], '-out', own[1]]); // prettier-ignore
    if (made.status === 0) {
      const { uid, gid } = statSync(data);
      for (const file of own) chownSync(file, uid, gid);
      await asked(postgres.url, 'ALTER SYSTEM SET ssl = on');
      await asked(postgres.url, 'SELECT pg_reload_conf()');
      await expect
        .poll(() => Log.open(verified).catch((error: { message: string }) => error.message))
        .toMatch(/^The certificate .* is not trusted \(DEPTH_ZERO_SELF_SIGNED_CERT\): [^\n]*\.$/);
    }
    writeFileSync(join(data, 'pg_hba.conf'), 'hostssl all all all scram-sha-256\n');
    await asked(postgres.url, 'SELECT pg_reload_conf()');
    await expect
      .poll(() =>
        Log.open(postgres.url).then(
          (log) => log.close(),
          (error: { message: string }) => error.message,
        ),
      ) // prettier-ignore
      .toContain('only lets encrypted connections in: add sslmode=verify-full');
  });
});
