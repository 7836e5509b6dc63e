import { checkBow } from '../../src/tuning/bow/check-set-up.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import type { LoggedEnd } from './from-rows.ts';
import { LogError } from './log-error.ts';
import type { Tx } from './storage.ts';
import type { Tables } from './tables.ts';
import {
  archerRow,
  arrowRows,
  bowRow,
  endRow,
  samePhoto,
  sealed,
  sessionRow,
  setUpRow,
  unknown,
} from './to-rows.ts';

/** Rows of one statement: SQLite takes some 32,000 values, of up to fourteen to a row. */
const ROWS_AT_ONCE = 1000;

/** Writes into a log that has none yet, many rows at once; each is checked as where one is put. */
export class FirstRows {
  readonly #tx: Tx;
  readonly #archers = new Set<string>();
  readonly #ownerOfBow = new Map<string, string>();
  readonly #ownerOfSetUp = new Map<string, string>();
  readonly #archerOfSession = new Map<string, string>();
  /** When the end was shot that has a photo, by archer and photo. */
  readonly #photos = new Map<string, string>();

  constructor(tx: Tx) {
    this.#tx = tx;
  }

  async put({ archers, bows, setUps, sessions }: Omit<WholeLog, 'ends'>): Promise<void> {
    for (const { id } of archers) this.#archers.add(id);
    await this.#insert('archers', archers.map(archerRow));
    for (const bow of bows) {
      const problem = checkBow(bow)[0];
      if (problem) throw new LogError('bad-set-up', problem.message);
      if (!this.#archers.has(bow.archerId)) throw unknown('archer', bow.archerId);
      this.#ownerOfBow.set(bow.id, bow.archerId);
    }
    await this.#insert('bows', bows.map(bowRow));
    for (const { id, bowId } of setUps) {
      const owner = this.#ownerOfBow.get(bowId);
      if (owner === undefined) throw unknown('bow', bowId);
      this.#ownerOfSetUp.set(id, owner);
    }
    await this.#insert('set_ups', setUps.map(setUpRow));
    for (const { id, archerId, bowId, setUpId } of sessions) {
      if (!this.#archers.has(archerId)) throw unknown('archer', archerId);
      if (this.#ownerOfBow.get(bowId) !== archerId) throw unknown('bow', bowId);
      if (this.#ownerOfSetUp.get(setUpId) !== archerId) throw unknown('set-up', setUpId);
      this.#archerOfSession.set(id, archerId);
    }
    await this.#insert('sessions', sessions.map(sessionRow));
  }

  /** To be called after `put`, as often as needed. */
  async putEnds(ends: readonly LoggedEnd[]): Promise<void> {
    const rows = ends.map((end) => {
      const archerId = this.#ownerOf(end);
      const arrows = arrowRows(end);
      return { end: sealed(endRow(end, archerId), arrows), arrows };
    });
    for (const some of inParts(rows)) {
      await this.#tx
        .insertInto('ends')
        .values(some.map(({ end }) => end))
        .execute();
      for (const arrows of inParts(some.flatMap((one) => one.arrows))) {
        await this.#tx.insertInto('arrows').values(arrows).execute();
      }
    }
  }

  #ownerOf({ sessionId, setUpId, sourceSha256, shotAt }: LoggedEnd): string {
    const archerId = this.#archerOfSession.get(sessionId);
    if (archerId === undefined) throw unknown('session', sessionId);
    if (this.#ownerOfSetUp.get(setUpId) !== archerId) throw unknown('set-up', setUpId);
    if (sourceSha256 === null) return archerId;
    const photo = `${sourceSha256} ${archerId}`;
    const other = this.#photos.get(photo);
    if (other !== undefined) throw samePhoto(other);
    this.#photos.set(photo, shotAt);
    return archerId;
  }

  async #insert<T extends 'archers' | 'bows' | 'set_ups' | 'sessions'>(
    table: T,
    rows: readonly Omit<Tables[T], 'seal'>[],
  ): Promise<void> {
    for (const some of inParts(rows)) {
      const values = some.map((row) => sealed(row));
      await this.#tx
        .insertInto(table)
        .values(values as never)
        .execute();
    }
  }
}

function* inParts<T>(rows: readonly T[]): Generator<readonly T[]> {
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE) {
    yield rows.slice(from, from + ROWS_AT_ONCE);
  }
}
