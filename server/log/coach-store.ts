import { randomUUID } from 'node:crypto';
import { damagedLog } from './explain-storage.ts';
import { sealOf } from './seal.ts';
import type { Storage, Tx } from './storage.ts';
import { unknown } from './to-rows.ts';
import { noteInTrail, type Actor } from './trail.ts';

/** A coach, and whom they coach. */
export interface Coach {
  readonly id: string;
  readonly name: string;
  /** Archers, by their ids. */
  readonly archerIds: readonly string[];
}

/** Who coaches whom. What a coach's devices may see follows at once. */
export class CoachStore {
  readonly #storage: Pick<Storage, 'read' | 'write'>;

  constructor(storage: Pick<Storage, 'read' | 'write'>) {
    this.#storage = storage;
  }

  /** By name. @throws LogError where a row is damaged */
  async coaches(): Promise<Coach[]> {
    return this.#storage.read(async (tx) => {
      const rows = await tx
        .selectFrom('coaches')
        .selectAll()
        .orderBy('name')
        .orderBy('id')
        .execute();
      const coaches: Coach[] = [];
      for (const row of rows) {
        if (row.seal !== sealOf(row)) {
          throw damagedLog(undefined, 'The log is damaged where it keeps a coach');
        }
        const archerIds = [...(await coachedBy(tx, row.id))].sort();
        coaches.push({ id: row.id, name: row.name, archerIds });
      }
      return coaches;
    });
  }

  /** A coach as they are from now on. @throws LogError where there is no such archer */
  async put({ id, name, archerIds }: Coach, by: Actor): Promise<void> {
    const wanted = new Set(archerIds);
    await this.#storage.write(async (tx) => {
      const row = { id, name };
      const seal = sealOf(row);
      const there = await tx
        .selectFrom('coaches')
        .select('seal')
        .where('id', '=', id)
        .executeTakeFirst();
      if (there?.seal !== seal) {
        await tx
          .insertInto('coaches')
          .values({ ...row, seal })
          .onConflict((oc) => oc.column('id').doUpdateSet({ name, seal }))
          .execute();
        const done = there === undefined ? 'kept' : 'changed';
        await noteInTrail(tx, by, { done, kind: 'coach', id, archerId: null });
      }
      const links = await tx.selectFrom('coached').selectAll().where('coach_id', '=', id).execute();
      const linked = new Set(links.map(({ archer_id }) => archer_id));
      for (const archerId of new Set([...wanted, ...linked])) {
        if (wanted.has(archerId) === linked.has(archerId)) continue;
        if (wanted.has(archerId)) await coach(tx, id, archerId);
        else {
          await tx
            .deleteFrom('coached')
            .where('coach_id', '=', id)
            .where('archer_id', '=', archerId)
            .execute();
        }
        // Whose trail it is, too: who may see an archer's record is a change of theirs.
        await noteInTrail(tx, by, { done: 'changed', kind: 'coach', id, archerId });
      }
    });
  }

  /** Their devices have no access any more; archers stay. @throws LogError where there is none */
  async delete(id: string, by: Actor): Promise<void> {
    await this.#storage.write(async (tx) => {
      const links = await tx
        .selectFrom('coached')
        .select('archer_id')
        .where('coach_id', '=', id)
        .orderBy('archer_id')
        .execute();
      const { numDeletedRows } = await tx
        .deleteFrom('coaches')
        .where('id', '=', id)
        .executeTakeFirst();
      if (numDeletedRows === 0n) throw unknown('coach', id);
      await noteInTrail(tx, by, { done: 'deleted', kind: 'coach', id, archerId: null });
      for (const { archer_id: archerId } of links) {
        await noteInTrail(tx, by, { done: 'changed', kind: 'coach', id, archerId });
      }
    });
  }
}

export function newCoach(name: string): Coach {
  return { id: randomUUID(), name, archerIds: [] };
}

async function coach(tx: Tx, coachId: string, archerId: string): Promise<void> {
  const archer = await tx
    .selectFrom('archers')
    .select('id')
    .where('id', '=', archerId)
    .executeTakeFirst();
  if (archer === undefined) throw unknown('archer', archerId);
  const row = { coach_id: coachId, archer_id: archerId };
  await tx
    .insertInto('coached')
    .values({ ...row, seal: sealOf(row) })
    .execute();
}

/** Damaged rows left out: one might let in to more than was granted. */
export async function coachedBy(tx: Tx, coachId: string): Promise<Set<string>> {
  const rows = await tx.selectFrom('coached').selectAll().where('coach_id', '=', coachId).execute();
  return new Set(rows.flatMap((row) => (row.seal === sealOf(row) ? [row.archer_id] : [])));
}
