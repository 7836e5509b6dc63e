import { randomBytes } from 'node:crypto';
import { Client } from 'pg';
import { describe, expect, it, onTestFinished } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { PoolFullError } from '../../../server/reading/reading-pool.ts';
import { KeyUsedError, URGENCY } from '../../../server/reading/readings.ts';
import { BOSS_LAYOUT } from '../../../server/queue/queue-tables.ts';
import { Sweeper } from '../../../server/queue/sweeper.ts';
import { hasPostgres } from '../postgres/postgres-of-tests.ts';
import {
  failure,
  queueOfTests,
  readWords,
  submissionOf,
  wordsOf,
  workerOfTests,
} from './queue-of-tests.ts';

const read = (message: string) => ({
  standing: { state: 'read', outcome: { ok: false, error: { message } } },
});

describe.skipIf(!hasPostgres)('the queue', () => {
  it('hands a photo to a worker and its reading back, to any server', async () => {
    const one = await queueOfTests();
    const other = await queueOfTests({ url: one.url });
    const id = await one.readings.submit(submissionOf('meadow', { about: { end: 7 } }));
    expect(await other.readings.find(id)).toMatchObject({
      about: { end: 7 },
      standing: { state: 'waiting', ahead: 1 },
    });
    const followed = other.readings.follow(id);
    workerOfTests(one);
    expect(await followed).toMatchObject(read('meadow'));
    expect(await one.readings.find(id)).toMatchObject({ about: { end: 7 }, ...read('meadow') });
  });

  it('stores photos of several parts as they are, and none once it is read', async () => {
    const queue = await queueOfTests();
    const { readings } = queue;
    const bytes = new Uint8Array(randomBytes(2_500_000));
    const submission = submissionOf('');
    const id = await readings.submit({
      ...submission,
      job: { ...submission.job, photo: { bytes }, also: { bytes: bytes.subarray(0, 10) } },
    });
    let isSame = false;
    workerOfTests(queue, {
      read: async (job) => {
        const { readFile } = await import('node:fs/promises');
        const of = async (source?: object) => readFile((source as { path: string }).path);
        isSame =
          (await of(job.photo)).equals(bytes) && (await of(job.also)).equals(bytes.subarray(0, 10));
        return failure('no-face', 'large');
      },
    });
    expect(await readings.follow(id)).toMatchObject(read('large'));
    expect(isSame).toBe(true);
  });

  it('reads by urgency, then by age, and tells how many are ahead', async () => {
    const queue = await queueOfTests();
    const { readings } = queue;
    const urgency = URGENCY.background;
    const late = await readings.submit(submissionOf('batch 1', { urgency }));
    await readings.submit(submissionOf('batch 2', { urgency }));
    const soon = await readings.submit(submissionOf('boss 1'));
    await readings.submit(submissionOf('boss 2'));
    const aheadOf = async (id: string) => (await readings.find(id))!.standing;
    expect(await aheadOf(late)).toEqual({ state: 'waiting', ahead: 3 });
    expect(await aheadOf(soon)).toEqual({ state: 'waiting', ahead: 1 });
    const order: string[] = [];
    const ahead: number[] = [];
    const followed = readings.follow(late, { onAhead: (n) => ahead.push(n) });
    await expect.poll(() => ahead).toEqual([3]);
    workerOfTests(queue, {
      read: (job) => {
        order.push(wordsOf(job));
        return readWords(job);
      },
    });
    await followed;
    await expect.poll(() => order).toEqual(['boss 1', 'boss 2', 'batch 1', 'batch 2']);
  });

  it('says so where it may not make its tables, or finds those of a newer endwise', async () => {
    const { url } = await queueOfTests();
    const client = new Client({ connectionString: url });
    await client.connect();
    onTestFinished(() => client.end());
    const { rows } = await client.query('SELECT version FROM endwise_queue.version');
    expect(rows).toEqual([{ version: BOSS_LAYOUT }]);
    for (const table of ['endwise_queue.version', 'endwise_readings.layout']) {
      await client.query(`UPDATE ${table} SET version = 99`);
      await expect(queueOfTests({ url })).rejects.toMatchObject({ code: 'newer-log' });
    }
    const guest = new URL(url);
    [guest.username, guest.password] = [`queue_${guest.pathname.slice(1)}`, 'lapwing'];
    await client.query(`DROP SCHEMA endwise_queue, endwise_readings CASCADE`);
    await client.query(`CREATE ROLE ${guest.username} LOGIN PASSWORD 'lapwing'`);
    await client.query(`GRANT ALL ON ALL TABLES IN SCHEMA public TO ${guest.username}`);
    await expect(queueOfTests({ url: guest.href })).rejects.toThrow('make it the owner');
  });

  it('takes the same key once, and refuses it for another photo', async () => {
    const { readings } = await queueOfTests();
    const by = { deviceId: 'phone', archerId: null };
    const id = await readings.submit(submissionOf('a', { by, key: 'k' }));
    const again = Array.from({ length: 4 }, () =>
      readings.submit(submissionOf('a', { by, key: 'k' })),
    );
    expect(new Set(await Promise.all(again))).toEqual(new Set([id]));
    await expect(readings.submit(submissionOf('b', { by, key: 'k' }))).rejects.toThrow(
      KeyUsedError,
    );
    // Another's key is none of theirs.
    expect(await readings.submit(submissionOf('b', { key: 'k' }))).not.toBe(id);
    expect(await readings.figures()).toMatchObject({ waiting: 2, reading: 0 });
  });

  it('refuses what is too much', async () => {
    const { store } = await queueOfTests();
    const id = '7a2f1c9e-4f9b-4e57-9d55-0f3f1c1b9a01';
    await store.submit(id, submissionOf('a'), 1);
    await expect(store.submit(id.replace('7', '8'), submissionOf('b'), 1)).rejects.toThrow(
      PoolFullError,
    );
  });

  it("gives a dead worker's job to another, once; then it is set aside and can be put back", async () => {
    const queue = await queueOfTests();
    const { readings, store } = queue;
    const id = await readings.submit(submissionOf('a'));
    const sweeper = new Sweeper(store);
    for (const what of ['again', 'aside'] as const) {
      const lost: string[] = [];
      const own = new Sweeper(store, (one) => lost.push(one));
      const taken = (await store.take())!;
      expect(await store.take()).toBeNull();
      await expect.poll(() => store.lapsed()).toHaveLength(1);
      await own.sweep(0);
      expect(lost).toEqual([]);
      await own.sweep(600);
      await sweeper.sweep(600);
      expect(lost).toEqual([what]);
      // What it died of comes too late.
      expect(await store.keep(taken, failure('no-face', 'late'))).toBe(false);
    }
    expect(await readings.find(id)).toMatchObject({
      standing: { outcome: { error: { code: 'worker-died', message: expect.stringContaining('twice') as string } } }, // prettier-ignore
    });
    await readings.fetched(id);
    const [aside] = await store.setAside();
    expect(aside).toMatchObject({ id });
    expect(aside!.goesAt.getTime() - Date.now()).toBeGreaterThan(6 * 24 * 3600_000);
    expect(await store.take()).toBeNull();
    expect(await store.putBack(id)).toBe(true);
    expect(await store.putBack(id)).toBe(false);
    workerOfTests(queue);
    expect(await readings.follow(id)).toMatchObject(read('a'));
  });

  it('sets a photo aside that brings its readers down twice, and reads the others', async () => {
    const queue = await queueOfTests();
    const { readings } = queue;
    const words = ['a', 'crash', 'b', 'c'];
    const ids = await Promise.all(words.map((one) => readings.submit(submissionOf(one))));
    const { ended } = workerOfTests(queue, { atOnce: 2 });
    const found = await Promise.all(ids.map((id) => readings.follow(id)));
    expect(found).toMatchObject([read('a'), { standing: { outcome: { error: { code: 'worker-died' } } } }, read('b'), read('c')]); // prettier-ignore
    await expect.poll(() => ended.map(({ what }) => what).sort()).toEqual(['again', 'aside', 'read', 'read', 'read']); // prettier-ignore
  });

  it("cancels what waits and what is being read, and deletes what is an archer's", async () => {
    const queue = await queueOfTests();
    const { readings, url } = queue;
    const { ended } = workerOfTests(queue);
    const hanging = await readings.submit(submissionOf('hang'));
    const ahead: number[] = [];
    const followed = readings.follow(hanging, { onAhead: (n) => ahead.push(n) });
    await expect.poll(() => ahead).toContain(0);
    const log = await Log.open(url);
    for (const id of ['ilka', 'tomas'])
      await log.putArcher({ id, name: id, hand: 'right', notes: '' });
    const waiting = await readings.submit(submissionOf('a', { ofArcher: 'ilka' }));
    const kept = await readings.submit(submissionOf('b', { ofArcher: 'tomas' }));
    await log.deleteArcher('ilka');
    await log.close();
    expect(await readings.find(waiting)).toBeNull();
    expect(await readings.drop(hanging)).toBe(true);
    expect(await readings.drop(hanging)).toBe(false);
    expect(await followed).toBeNull();
    expect(await readings.follow(kept)).toMatchObject(read('b'));
    expect(ended.map(({ what }) => what)).toEqual(['not-ours', 'read']);
  });

  it('keeps a result until it is fetched and for an hour more, its photo no longer than needed', async () => {
    const queue = await queueOfTests();
    const { readings, store, url } = queue;
    const client = new Client({ connectionString: url });
    await client.connect();
    const rows = async (text: string) => (await client.query<Record<string, unknown>>(text)).rows;
    const id = await readings.submit(submissionOf('a'));
    const hours = 'SELECT round(extract(epoch FROM goes_at - now()) / 3600)::int AS hours FROM endwise_readings.reading'; // prettier-ignore
    const parts = 'SELECT count(*)::int AS n FROM endwise_readings.photo_part';
    expect([await rows(parts), await rows(hours)]).toEqual([[{ n: 1 }], [{ hours: 168 }]]);
    workerOfTests(queue);
    await readings.follow(id);
    expect(await rows(parts)).toEqual([{ n: 0 }]);
    await readings.fetched(id);
    expect([await store.purge(), await rows(hours)]).toEqual([0, [{ hours: 1 }]]);
    await rows("UPDATE endwise_readings.reading SET goes_at = now() - interval '1 s'");
    expect([await store.purge(), await readings.find(id)]).toEqual([1, null]);
    expect(await rows('SELECT * FROM endwise_queue.job')).toEqual([]);
    await client.end();
  });

  it('gives back what a worker that is told to end cannot finish, and blames nobody', async () => {
    const queue = await queueOfTests();
    const { readings, store } = queue;
    const id = await readings.submit(submissionOf('hang'));
    const { ended, end } = workerOfTests(queue);
    await expect.poll(() => readings.figures()).toMatchObject({ reading: 1 });
    await end();
    expect(ended).toEqual([{ what: 'given-back' }]);
    expect(await readings.find(id)).toMatchObject({ standing: { state: 'waiting' } });
    expect(await store.take()).toMatchObject({ id, deaths: 0 });
  });
});
