import type { Role } from '../../src/club/rights.ts';
import type { Storage, Tx } from './storage.ts';

/** Who does something to the log. */
export interface Actor {
  /** Null where no device was paired for it: the machine itself. */
  readonly deviceId: string | null;
  /** What the device is called. */
  readonly label: string;
  readonly role: Role;
}

/** Whoever has the machine of the log has the log. */
export const THIS_MACHINE: Actor = { deviceId: null, label: 'this machine', role: 'keeper' };
export const COMMAND_LINE: Actor = { deviceId: null, label: 'command line', role: 'keeper' };

export type Done = 'kept' | 'changed' | 'deleted' | 'exported' | 'imported' | 'paired' | 'unpaired';

export type TrailKind =
  'archer' | 'bow' | 'set-up' | 'session' | 'end' | 'log' | 'device' | 'pairing-code' | 'coach';

/** What was done to what; what it said before and says now is not kept. */
export interface Deed {
  readonly done: Done;
  readonly kind: TrailKind;
  readonly id: string | null;
  /** Whose it is; null where it is no archer's. */
  readonly archerId: string | null;
}

export interface TrailEntry extends Deed {
  /** Counts up. */
  readonly number: number;
  /** ISO 8601, UTC. */
  readonly at: string;
  readonly by: Actor;
}

export interface TrailFilter {
  /** Only what is older than this entry. */
  readonly before?: number | undefined;
  readonly archerId?: string | undefined;
  /** ISO 8601, UTC. */
  readonly since?: string | undefined;
  /** @default 200 */
  readonly most?: number | undefined;
}

/** The season before last is of use to nobody, days. */
export const TRAIL_DAYS = 730;
const MOST = 200;

/** Within the transaction that does it: neither is there without the other. */
export async function noteInTrail(tx: Tx, by: Actor, deed: Deed): Promise<void> {
  await tx
    .insertInto('trail')
    .values({
      at: new Date().toISOString(),
      device_id: by.deviceId,
      device_label: by.label,
      role: by.role,
      done: deed.done,
      kind: deed.kind,
      thing_id: deed.id,
      archer_id: deed.archerId,
    })
    .execute();
}

/**
 * Takes out of the trail what names an archer: ids of theirs are made of names, and so may be what their
 * devices are called. When, by which role and what kind of thing stays.
 */
export async function forgetInTrail(tx: Tx, archerId: string): Promise<void> {
  await tx
    .updateTable('trail')
    .set({ device_id: null, device_label: '' })
    .where('archer_id', '=', archerId)
    .where('role', '=', 'archer' satisfies Role)
    .execute();
  await tx
    .updateTable('trail')
    .set({ thing_id: null, archer_id: null })
    .where('archer_id', '=', archerId)
    .execute();
}

/** Who changed what in a log, for whoever keeps it. */
export class Trail {
  readonly #storage: Pick<Storage, 'read' | 'write'>;

  constructor(storage: Pick<Storage, 'read' | 'write'>) {
    this.#storage = storage;
  }

  /** Newest first. */
  async entries({ before, archerId, since, most = MOST }: TrailFilter = {}): Promise<TrailEntry[]> {
    const rows = await this.#storage.read((tx) => {
      let query = tx.selectFrom('trail').selectAll().orderBy('number', 'desc').limit(most);
      if (before !== undefined) query = query.where('number', '<', before);
      if (archerId !== undefined) query = query.where('archer_id', '=', archerId);
      if (since !== undefined) query = query.where('at', '>=', since);
      return query.execute();
    });
    return rows.map((row) => ({
      number: row.number,
      at: row.at,
      by: { deviceId: row.device_id, label: row.device_label, role: row.role as Role },
      done: row.done as Done,
      kind: row.kind as TrailKind,
      id: row.thing_id,
      archerId: row.archer_id,
    }));
  }

  /** What is older than it is kept goes. */
  async sweep(now = Date.now()): Promise<void> {
    const from = new Date(now - TRAIL_DAYS * 24 * 3600_000).toISOString();
    await this.#storage.write((tx) => tx.deleteFrom('trail').where('at', '<', from).execute());
  }
}
