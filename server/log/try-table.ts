import { sql, type Kysely } from 'kysely';
import type { PostgresTables } from './postgres-tables.ts';
import type { TryCounter } from './storage.ts';

/** Counts in the database, each by one statement: no two servers count the same try as the same number. */
export class TryTable implements TryCounter {
  readonly #db: Kysely<PostgresTables>;
  readonly #tried: <T>(work: () => Promise<T>) => Promise<T>;

  /** @param tried does it again where the database is away for a moment */
  constructor(db: Kysely<PostgresTables>, tried: <T>(work: () => Promise<T>) => Promise<T>) {
    this.#db = db;
    this.#tried = tried;
  }

  count(key: string, windowMs: number) {
    return this.#tried(async () => {
      const { rows } = await sql<{ count: number; endsAt: Date }>`
        INSERT INTO tries VALUES (${key}, 1, now() + ${windowMs} * interval '1 millisecond')
        ON CONFLICT (key) DO UPDATE SET
          count = CASE WHEN tries.ends_at > now() THEN tries.count + 1 ELSE 1 END,
          ends_at = CASE WHEN tries.ends_at > now() THEN tries.ends_at ELSE excluded.ends_at END
        RETURNING count, ends_at AS "endsAt"`.execute(this.#db);
      return rows[0]!;
    });
  }

  async takeBack(key: string): Promise<void> {
    await this.#tried(() =>
      this.#db
        .updateTable('tries')
        .set((eb) => ({ count: eb('count', '-', 1) }))
        .where('key', '=', key)
        .where('count', '>', 0)
        .execute(),
    );
  }

  async forget(key: string): Promise<void> {
    await this.#tried(() => this.#db.deleteFrom('tries').where('key', '=', key).execute());
  }
}
