import {
  createHash,
  randomBytes,
  randomInt,
  randomUUID,
  scrypt,
  timingSafeEqual,
} from 'node:crypto';
import { promisify } from 'node:util';
import type { Person } from '../../src/club/rights.ts';
import { coachedBy } from './coach-store.ts';
import { sealOf } from './seal.ts';
import type { Storage, Tx } from './storage.ts';
import type { Tables } from './tables.ts';
import { unknown } from './to-rows.ts';
import { COMMAND_LINE, noteInTrail, type Actor } from './trail.ts';

const derive = promisify<string, Buffer, number, Buffer>(scrypt);
const HASH_BYTES = 32;

/** Without letters and digits that are read for one another. Eight of them are 39 bits. */
const LETTERS = 'ABCDEFGHJKMNPQRSTUVWXYZ2345679';
const CODE_LENGTH = 8;
/** Long enough to walk over to the phone; `endwise pair` shows another. */
export const CODE_MINUTES = 15;

/** Whom a device belongs to. */
export type Holder =
  | { readonly role: 'archer'; readonly archerId: string }
  | { readonly role: 'coach'; readonly coachId: string }
  | { readonly role: 'keeper' };

export const KEEPER: Holder = { role: 'keeper' };

export interface Device {
  readonly id: string;
  readonly label: string;
  readonly holder: Holder;
  readonly pairedAt: string;
}

/** A paired device, and whom it speaks for. */
export interface Grant extends Actor, Person {
  readonly deviceId: string;
  readonly coachId: string | null;
}

export interface CodeOptions {
  /** What the device will be called; without one it gets a name that says nothing of anybody. */
  readonly label?: string | undefined;
  /** Who asked for it; null for a server that shows one by itself. @default null */
  readonly by?: Actor | null;
  readonly now?: number;
}

/** Pairing codes and paired devices; of both only hashes are kept. */
export class DeviceStore {
  /** Called after each try to pair a device, as a person at the terminal may have to show a code. */
  onTried: (paired: boolean) => void = () => undefined;
  readonly #storage: Pick<Storage, 'read' | 'write'>;

  constructor(storage: Pick<Storage, 'read' | 'write'>) {
    this.#storage = storage;
  }

  /**
   * A code that pairs one device within the next minutes, as 'ABCD-EFGH'.
   * @throws LogError where there is no such archer or coach
   */
  async newCode(
    holder: Holder,
    { label = '', by = null, now = Date.now() }: CodeOptions = {},
  ): Promise<string> {
    const code = Array.from({ length: CODE_LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join(
      '',
    );
    const salt = randomBytes(16);
    const row = {
      id: randomUUID(),
      salt: salt.toString('hex'),
      hash: (await derive(code, salt, HASH_BYTES)).toString('hex'),
      expires_at: iso(now + CODE_MINUTES * 60_000),
      label,
      ...holderRow(holder),
    };
    await this.#storage.write(async (tx) => {
      await tx.deleteFrom('pairing_codes').where('expires_at', '<', iso(now)).execute();
      await needHolder(tx, holder);
      await tx.insertInto('pairing_codes').values(row).execute();
      const archerId = row.archer_id;
      if (by) await noteInTrail(tx, by, { done: 'kept', kind: 'pairing-code', id: null, archerId });
    });
    return `${code.slice(0, 4)}-${code.slice(4)}`;
  }

  /** A new device's token, or null for a code that does not hold. */
  async pair(typed: string, now = Date.now()): Promise<Paired | null> {
    const paired = await this.#pair(typed, now);
    this.onTried(paired !== null);
    return paired;
  }

  async #pair(typed: string, now: number): Promise<Paired | null> {
    const code = typed.toUpperCase().replace(/[^A-Z0-9]/g, '');
    if (code.length !== CODE_LENGTH) return null;
    const codes = await this.#storage.read((tx) =>
      tx.selectFrom('pairing_codes').selectAll().where('expires_at', '>=', iso(now)).execute(),
    );
    for (const { id: codeId, salt, hash, archer_id, coach_id, role, label } of codes) {
      const derived = await derive(code, Buffer.from(salt, 'hex'), HASH_BYTES);
      if (!timingSafeEqual(derived, Buffer.from(hash, 'hex'))) continue;
      const holder = holderIn({ role, archer_id, coach_id });
      if (holder === null) return null;
      const token = randomBytes(32).toString('base64url');
      const id = randomUUID();
      const named = label || `${role} device ${id.slice(0, 4)}`;
      const row = {
        id,
        token_sha256: tokenHash(token),
        paired_at: iso(now),
        label: named,
        ...holderRow(holder),
      };
      const isFirst = await this.#storage.write(async (tx) => {
        const used = await tx
          .deleteFrom('pairing_codes')
          .where('id', '=', codeId)
          .executeTakeFirst();
        if (used.numDeletedRows === 0n) return false;
        await tx
          .insertInto('devices')
          .values({ ...row, seal: sealOf(row) })
          .execute();
        const by = { deviceId: id, label: named, role: holder.role };
        await noteInTrail(tx, by, { done: 'paired', kind: 'device', id, archerId: archer_id });
        return true;
      });
      return isFirst ? { token, deviceId: id, holder } : null;
    }
    return null;
  }

  /** Whether a code is open that would pair a device now. */
  async hasOpenCode(now = Date.now()): Promise<boolean> {
    const open = await this.#storage.read((tx) =>
      tx
        .selectFrom('pairing_codes')
        .select('id')
        .where('expires_at', '>=', iso(now))
        .executeTakeFirst(),
    );
    return open !== undefined;
  }

  /** Open codes hold no longer than the server that showed them. */
  async forgetCodes(): Promise<void> {
    await this.#storage.write((tx) => tx.deleteFrom('pairing_codes').execute());
  }

  async grantOf(token: string): Promise<Grant | null> {
    return this.#storage.read(async (tx) => {
      const row = await tx
        .selectFrom('devices')
        .selectAll()
        .where('token_sha256', '=', tokenHash(token))
        .executeTakeFirst();
      // A damaged row might let in to more than was granted.
      const holder = row && row.seal === sealOf(row) ? holderIn(row) : null;
      if (!row || holder === null) return null;
      const coachId = holder.role === 'coach' ? holder.coachId : null;
      return {
        deviceId: row.id,
        label: row.label,
        role: holder.role,
        archerId: holder.role === 'archer' ? holder.archerId : null,
        coachId,
        coached: coachId === null ? new Set() : await coachedBy(tx, coachId),
      };
    });
  }

  /** Oldest first. */
  async devices(): Promise<Device[]> {
    const rows = await this.#storage.read((tx) =>
      tx.selectFrom('devices').selectAll().orderBy('paired_at').orderBy('id').execute(),
    );
    return rows.flatMap((row) => {
      const holder = holderIn(row);
      if (holder === null) return [];
      return [{ id: row.id, label: row.label, holder, pairedAt: row.paired_at }];
    });
  }

  /** Ends a device's access at once; without an id that of all, and every open code. */
  async revoke(id?: string, by: Actor = COMMAND_LINE): Promise<number> {
    return this.#storage.write(async (tx) => {
      const all = tx.selectFrom('devices').select(['id', 'archer_id']);
      const gone = await (id === undefined ? all : all.where('id', '=', id)).execute();
      for (const { id: device, archer_id } of gone) {
        await tx.deleteFrom('devices').where('id', '=', device).execute();
        await noteInTrail(tx, by, {
          done: 'unpaired',
          kind: 'device',
          id: device,
          archerId: archer_id,
        });
      }
      if (id === undefined) await tx.deleteFrom('pairing_codes').execute();
      return gone.length;
    });
  }
}

/** Whoever has it is let in; nothing but its hash is kept. */
export interface Paired {
  readonly token: string;
  readonly deviceId: string;
  readonly holder: Holder;
}

type HolderRow = Pick<Tables['devices'], 'role' | 'archer_id' | 'coach_id'>;

function holderRow(holder: Holder): HolderRow {
  return {
    role: holder.role,
    archer_id: holder.role === 'archer' ? holder.archerId : null,
    coach_id: holder.role === 'coach' ? holder.coachId : null,
  };
}

/** Null for what a device cannot be: it is let in nowhere. */
function holderIn({ role, archer_id, coach_id }: HolderRow): Holder | null {
  if (role === 'archer' && archer_id !== null && coach_id === null) {
    return { role, archerId: archer_id };
  }
  if (role === 'coach' && coach_id !== null && archer_id === null) {
    return { role, coachId: coach_id };
  }
  return role === 'keeper' && archer_id === null && coach_id === null ? { role } : null;
}

async function needHolder(tx: Tx, holder: Holder): Promise<void> {
  if (holder.role === 'keeper') return;
  const [table, id] =
    holder.role === 'archer'
      ? (['archers', holder.archerId] as const)
      : (['coaches', holder.coachId] as const);
  const there = await tx.selectFrom(table).select('id').where('id', '=', id).executeTakeFirst();
  if (there === undefined) throw unknown(holder.role, id);
}

/** Tokens are 256 random bits: a plain hash cannot be searched. */
function tokenHash(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

function iso(ms: number): string {
  return new Date(ms).toISOString();
}
