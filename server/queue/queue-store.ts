import { randomUUID } from 'node:crypto';
import { CompiledQuery, sql, type Kysely } from 'kysely';
import type { ClientBase } from 'pg';
import type PgBoss from 'pg-boss';
import { isAway } from '../log/explain-postgres.ts';
import { photosSha256 } from '../reading/photos-sha256.ts';
import type { Outcome } from '../reading/read-job.ts';
import {
  FETCHED_SECONDS,
  KeyUsedError,
  MOST_DEATHS,
  SET_ASIDE,
  URGENCY,
  type Figures,
  type Found,
  type Submission,
} from '../reading/readings.ts';
import { PoolFullError } from '../reading/reading-pool.ts';
import type { ReadingJob } from '../reading/reading-job.ts';
import { fetchPhotos, storePhotos, type QueueBase } from './photo-parts.ts';
import { QUEUE, type JobWords, type QueueTables } from './queue-tables.ts';

/** Whose lease was not renewed for so long is taken for dead, s. */
const LEASE_SECONDS = 10;

type Tx = Kysely<QueueTables>;

/** A job that a worker has taken. */
export interface Taken {
  readonly id: string;
  /** Of this taking alone. */
  readonly token: string;
  readonly words: JobWords;
  /** Workers that died while they had it. */
  readonly deaths: number;
  /** How long it had waited, s. */
  readonly waitedSeconds: number;
}

export interface Standing {
  readonly id: string;
  readonly state: 'waiting' | 'reading' | 'read';
  /** Place in the queue, from 1; 0 where it does not wait. */
  readonly ahead: number;
}

/** A job that was set aside. */
export interface SetAside {
  readonly id: string;
  readonly submittedAt: Date;
  readonly goesAt: Date;
}

/**
 * Everything that servers and workers ask of the queue, each call one transaction, so that pg-boss's
 * row of a job and ours never differ. READ COMMITTED is enough: a job's rows are written by who holds
 * the lock on pg-boss's row of it, which every transaction takes first (so that none waits for
 * another in a circle), and every change of ours names the state that it starts from.
 */
export class QueueStore {
  readonly leaseSeconds: number;
  readonly #base: QueueBase;
  readonly #db: Kysely<QueueTables>;
  readonly #boss: PgBoss;

  constructor(base: QueueBase, boss: PgBoss, leaseSeconds = LEASE_SECONDS) {
    this.#base = base;
    this.#db = base.db;
    this.#boss = boss;
    this.leaseSeconds = leaseSeconds;
  }

  /**
   * Once this resolves, the photos and the job are on the disk. With the same `id` it may be tried
   * again: where the first try was kept after all, nothing changes.
   * @returns the id, or that of the job that was handed in under the same key before
   * @throws PoolFullError, KeyUsedError
   */
  async submit(id: string, submission: Submission, mostWaiting: number): Promise<string> {
    const { job, by, urgency, key, about = {}, ofArcher } = submission;
    const sha256 = await photosSha256(job);
    const priority = URGENCY.last - urgency;
    return this.#byOneConnection(async (tx, client) => {
      const { waiting } = await tx
        .selectFrom('reading')
        .select((all) => all.fn.countAll<string>().as('waiting'))
        .where('state', '=', 'waiting')
        .executeTakeFirstOrThrow();
      if (Number(waiting) >= mostWaiting) throw new PoolFullError(Number(waiting));
      const inserted = await tx
        .insertInto('reading')
        .values({
          id,
          priority,
          state: 'waiting',
          device_id: by.deviceId,
          archer_id: by.archerId,
          of_archer: ofArcher ?? by.archerId,
          key: key ?? null,
          photos_sha256: sha256,
          words: JSON.stringify({ request: job.request, sizes: job.sizes }),
          about: JSON.stringify(about),
        })
        .onConflict((conflict) => conflict.doNothing())
        .returning('id')
        .executeTakeFirst();
      if (inserted === undefined) return this.#handedInBefore(tx, id, submission, sha256);
      await storePhotos(client, id, job);
      await this.#boss.send(QUEUE, {}, { id, priority, db: sqlOf(tx) });
      return id;
    });
  }

  async find(id: string): Promise<Found | null> {
    const row = await this.#db
      .selectFrom('reading')
      .select(['device_id', 'archer_id', 'of_archer', 'about', 'outcome'])
      .where('id', '=', id)
      .executeTakeFirst();
    if (row === undefined) return null;
    const found = {
      id,
      by: { deviceId: row.device_id, archerId: row.archer_id },
      ofArcher: row.of_archer,
      about: row.about,
    };
    if (row.outcome !== null) {
      return { ...found, standing: { state: 'read', outcome: row.outcome } };
    }
    const [standing] = await this.standings([id]);
    if (standing === undefined) return null;
    // It was read between the two questions.
    if (standing.state === 'read') return this.find(id);
    const { state, ahead } = standing;
    return { ...found, standing: state === 'waiting' ? { state, ahead } : { state } };
  }

  /** Of those that are there. */
  async standings(ids: readonly string[]): Promise<Standing[]> {
    const queue = this.#db
      .selectFrom('reading')
      .where('state', '=', 'waiting')
      .select([
        'id',
        sql<string>`row_number() OVER (ORDER BY priority DESC, submitted_at, id)`.as('ahead'),
      ]);
    const rows = await this.#db
      .with('queue', () => queue)
      .selectFrom('reading')
      .leftJoin('queue', 'queue.id', 'reading.id')
      .select(['reading.id', 'reading.state', 'queue.ahead'])
      .where('reading.id', 'in', [...ids])
      .execute();
    return rows.map(({ id, state, ahead }) => ({
      id,
      state: state === 'aside' ? 'read' : state,
      ahead: Number(ahead ?? 0),
    }));
  }

  /** The next job, by urgency and age; null where none waits. */
  async take(): Promise<Taken | null> {
    for (;;) {
      const taken = await this.#takeOne();
      if (taken !== 'left over') return taken;
    }
  }

  #takeOne(): Promise<Taken | 'left over' | null> {
    return this.#inTransaction(async (tx) => {
      // A crash may take the taking along, not the job: it waits again, and this token does not hold.
      await sql`SET LOCAL synchronous_commit = off`.execute(tx);
      const asked = sqlOf(tx);
      const [job] = await this.#boss.fetch(QUEUE, { db: asked });
      // What goes wrong, pg-boss passes over.
      if (asked.failure !== null) throw asked.failure;
      if (job === undefined) return null;
      const token = randomUUID();
      const row = await tx
        .updateTable('reading')
        .set({ state: 'reading', taken: token, lease_until: this.#leaseFromNow() })
        .where('id', '=', job.id)
        .where('state', '=', 'waiting')
        .returning([
          'words',
          'deaths',
          sql<number>`extract(epoch FROM now() - submitted_at)::float8`.as('waited'),
        ])
        .executeTakeFirst();
      if (row === undefined) {
        // Of a row that went with its archer, or that somebody took out by hand.
        await this.#boss.deleteJob(QUEUE, job.id, { db: asked });
        return 'left over';
      }
      const { words, deaths, waited } = row;
      return { id: job.id, token, words, deaths, waitedSeconds: waited };
    });
  }

  /** The job as a worker reads it, its photos put into a folder; null where it was dropped. */
  async jobOf({ id, words }: Taken, folder: string): Promise<ReadingJob | null> {
    const { photo, ...others } = await fetchPhotos(this.#base, id, folder);
    return photo === undefined ? null : { ...words, photo, ...others };
  }

  /** @returns the tokens that still hold */
  async renew(tokens: readonly string[]): Promise<Set<string>> {
    if (tokens.length === 0) return new Set();
    const rows = await this.#db
      .updateTable('reading')
      .set({ lease_until: this.#leaseFromNow() })
      .where('taken', 'in', [...tokens])
      .returning('taken')
      .execute();
    return new Set(rows.map(({ taken }) => taken!));
  }

  /**
   * Keeps what became of a job; its photos go.
   * @returns whether it was kept: not, where the job was dropped, or given to another meanwhile
   */
  async keep({ id, token }: Taken, outcome: Outcome): Promise<boolean> {
    return this.#change(async (tx) => {
      await this.#boss.deleteJob(QUEUE, id, { db: sqlOf(tx) });
      const { numUpdatedRows } = await tx
        .updateTable('reading')
        .set({ ...NOT_TAKEN, state: 'read', outcome: JSON.stringify(outcome), read_at: sql`now()` })
        .where('id', '=', id)
        .where('taken', '=', token)
        .executeTakeFirst();
      if (numUpdatedRows === 0n) throw new NotOurs();
      await tx.deleteFrom('photo_part').where('reading_id', '=', id).execute();
    });
  }

  /** Back into the queue, at its old place: nobody is to blame. */
  async giveBack({ id, token }: Taken): Promise<boolean> {
    return this.#change(async (tx) => {
      await this.#boss.fail(QUEUE, id, {}, { db: sqlOf(tx) });
      const { numUpdatedRows } = await tx
        .updateTable('reading')
        .set({ ...NOT_TAKEN, state: 'waiting' })
        .where('id', '=', id)
        .where('taken', '=', token)
        .executeTakeFirst();
      if (numUpdatedRows === 0n) throw new NotOurs();
    });
  }

  /**
   * Whoever read it died: back into the queue, or set aside.
   * @returns null where somebody else has seen to it
   */
  async lose({ id, token }: Pick<Taken, 'id' | 'token'>): Promise<'again' | 'aside' | null> {
    let aside = false;
    const done = await this.#change(async (tx) => {
      const row = await tx
        .selectFrom('reading')
        .select('deaths')
        .where('id', '=', id)
        .where('taken', '=', token)
        .executeTakeFirst();
      if (row === undefined) throw new NotOurs();
      const deaths = row.deaths + 1;
      aside = deaths >= MOST_DEATHS;
      if (aside) await this.#boss.cancel(QUEUE, id, { db: sqlOf(tx) });
      else await this.#boss.fail(QUEUE, id, {}, { db: sqlOf(tx) });
      const outcome: Outcome = { ok: false, elapsedMs: 0, error: SET_ASIDE };
      const { numUpdatedRows } = await tx
        .updateTable('reading')
        .set({
          ...NOT_TAKEN,
          deaths,
          ...(aside
            ? { state: 'aside', outcome: JSON.stringify(outcome), read_at: sql`now()` }
            : { state: 'waiting' }),
        })
        .where('id', '=', id)
        .where('taken', '=', token)
        .executeTakeFirst();
      if (numUpdatedRows === 0n) throw new NotOurs();
    });
    if (!done) return null;
    return aside ? 'aside' : 'again';
  }

  /**
   * Jobs whose worker has not renewed its lease. They are written, as they are: where that cannot be done, no
   * worker could renew, and none is to blame.
   */
  async lapsed(): Promise<{ id: string; token: string }[]> {
    const rows = await this.#db
      .updateTable('reading')
      .set((one) => ({ lease_until: one.ref('lease_until') }))
      .where('state', '=', 'reading')
      .where('lease_until', '<', sql<Date>`now()`)
      .returning(['id', 'taken'])
      .execute();
    return rows.map(({ id, taken }) => ({ id, token: taken! }));
  }

  /** What has been kept for as long as it may be goes. */
  async purge(): Promise<number> {
    const rows = await this.#db
      .selectFrom('reading')
      .select('id')
      .where('goes_at', '<', sql<Date>`now()`)
      .limit(1000)
      .execute();
    return this.#drop(rows.map(({ id }) => id));
  }

  async fetched(id: string): Promise<void> {
    await this.#db
      .updateTable('reading')
      .set({ goes_at: sql`least(goes_at, now() + ${FETCHED_SECONDS} * interval '1 s')` })
      .where('id', '=', id)
      // What was set aside stays for whoever looks after it.
      .where('state', '=', 'read')
      .execute();
  }

  async drop(id: string): Promise<boolean> {
    return (await this.#drop([id])) > 0;
  }

  async dropOf(archerId: string): Promise<number> {
    const rows = await this.#db
      .selectFrom('reading')
      .select('id')
      .where('of_archer', '=', archerId)
      .execute();
    return this.#drop(rows.map(({ id }) => id));
  }

  async setAside(): Promise<SetAside[]> {
    const rows = await this.#db
      .selectFrom('reading')
      .select(['id', 'submitted_at', 'goes_at'])
      .where('state', '=', 'aside')
      .orderBy('submitted_at')
      .execute();
    return rows.map(({ id, submitted_at, goes_at }) => ({
      id,
      submittedAt: submitted_at,
      goesAt: goes_at,
    }));
  }

  /** Puts what was set aside into the queue again. */
  async putBack(id: string): Promise<boolean> {
    return this.#change(async (tx) => {
      await this.#boss.resume(QUEUE, id, { db: sqlOf(tx) });
      const { numUpdatedRows } = await tx
        .updateTable('reading')
        .set({ state: 'waiting', deaths: 0, outcome: null, read_at: null })
        .where('id', '=', id)
        .where('state', '=', 'aside')
        .executeTakeFirst();
      if (numUpdatedRows === 0n) throw new NotOurs();
    });
  }

  async figures(): Promise<Figures> {
    const rows = await this.#db
      .selectFrom('reading')
      .select((all) => [
        'state',
        all.fn.countAll<string>().as('n'),
        sql<number>`extract(epoch FROM now() - min(submitted_at))::float8`.as('oldest'),
      ])
      .groupBy('state')
      .execute();
    const of = (state: string) => Number(rows.find((row) => row.state === state)?.n ?? 0);
    return {
      waiting: of('waiting'),
      reading: of('reading'),
      setAside: of('aside'),
      kept: of('read'),
      oldestSeconds: rows.find(({ state }) => state === 'waiting')?.oldest ?? 0,
    };
  }

  async check(): Promise<void> {
    const { writable } = await this.#db
      .selectFrom('layout')
      .select(sql<boolean>`NOT current_setting('transaction_read_only')::boolean`.as('writable'))
      .executeTakeFirstOrThrow();
    if (!writable) throw new Error('The database only lets read.');
  }

  async #drop(ids: string[]): Promise<number> {
    if (ids.length === 0) return 0;
    return this.#inTransaction(async (tx) => {
      await this.#boss.deleteJob(QUEUE, ids, { db: sqlOf(tx) });
      const { numDeletedRows } = await tx
        .deleteFrom('reading')
        .where('id', 'in', ids)
        .executeTakeFirst();
      return Number(numDeletedRows);
    });
  }

  /** The id under which the same was handed in before. @throws KeyUsedError */
  async #handedInBefore(
    tx: Tx,
    id: string,
    { by, key }: Submission,
    sha256: string,
  ): Promise<string> {
    const before = await tx
      .selectFrom('reading')
      .select(['id', 'photos_sha256'])
      .where((one) =>
        one.or([
          one('id', '=', id),
          ...(key === undefined
            ? []
            : [
                one.and([
                  one('key', '=', key),
                  one(sql`coalesce(device_id, '')`, '=', by.deviceId ?? ''),
                ]),
              ]),
        ]),
      )
      .executeTakeFirstOrThrow();
    if (before.photos_sha256 !== sha256) throw new KeyUsedError();
    return before.id;
  }

  #leaseFromNow() {
    return sql<Date>`now() + ${this.leaseSeconds} * interval '1 s'`;
  }

  /** A transaction, and the connection that it is in. */
  async #byOneConnection<T>(work: (tx: Tx, client: ClientBase) => Promise<T>): Promise<T> {
    const client = await this.#base.pool.connect();
    let isLost = false;
    try {
      const tx = this.#base.by(client).transaction().setIsolationLevel('read committed');
      return await tx.execute((one) => work(one, client));
    } catch (error) {
      isLost = isAway(error);
      throw error;
    } finally {
      client.release(isLost);
    }
  }

  #inTransaction<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    return this.#db.transaction().setIsolationLevel('read committed').execute(work);
  }

  /** @returns whether the job was still ours to change */
  async #change(work: (tx: Tx) => Promise<void>): Promise<boolean> {
    try {
      await this.#inTransaction(work);
      return true;
    } catch (error) {
      if (error instanceof NotOurs) return false;
      throw error;
    }
  }
}

const NOT_TAKEN = { taken: null, lease_until: null };

/** Rolls a transaction back. */
class NotOurs extends Error {}

/** pg-boss within our transaction. */
function sqlOf(tx: Tx) {
  const asked = {
    failure: null as Error | null,
    executeSql: async (text: string, values: readonly unknown[] = []) => {
      try {
        const { rows } = await tx.executeQuery<unknown>(CompiledQuery.raw(text, [...values]));
        return { rows };
      } catch (error) {
        asked.failure = error as Error;
        throw error;
      }
    },
  };
  return asked;
}
