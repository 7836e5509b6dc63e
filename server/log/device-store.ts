import {
  createHash,
  randomBytes,
  randomInt,
  randomUUID,
  scrypt,
  timingSafeEqual,
} from 'node:crypto';
import { promisify } from 'node:util';
import { sealOf } from './seal.ts';
import type { Storage } from './storage.ts';

const derive = promisify<string, Buffer, number, Buffer>(scrypt);
const HASH_BYTES = 32;

/** Without letters and digits that are read for one another. Eight of them are 39 bits. */
const LETTERS = 'ABCDEFGHJKMNPQRSTUVWXYZ2345679';
const CODE_LENGTH = 8;
/** Long enough to walk over to the phone; `endwise pair` shows another. */
export const CODE_MINUTES = 15;

/** What a paired device may see: everything, or one archer's part. */
export interface Grant {
  readonly deviceId: string;
  readonly archerId: string | null;
}

export interface Device {
  readonly id: string;
  readonly archerId: string | null;
  readonly pairedAt: string;
}

/** Pairing codes and paired devices; of both only hashes are kept. */
export class DeviceStore {
  /** Called after each try to pair a device, as a person at the terminal may have to show a code. */
  onTried: (paired: boolean) => void = () => undefined;
  readonly #storage: Pick<Storage, 'read' | 'write'>;

  constructor(storage: Pick<Storage, 'read' | 'write'>) {
    this.#storage = storage;
  }

  /** A code that pairs one device within the next minutes, as 'ABCD-EFGH'. @param archerId null: sees all */
  async newCode(archerId: string | null, now = Date.now()): Promise<string> {
    const code = Array.from({ length: CODE_LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join(
      '',
    );
    const salt = randomBytes(16);
    const row = {
      id: randomUUID(),
      salt: salt.toString('hex'),
      hash: (await derive(code, salt, HASH_BYTES)).toString('hex'),
      archer_id: archerId,
      expires_at: iso(now + CODE_MINUTES * 60_000),
    };
    await this.#storage.write(async (tx) => {
      await tx.deleteFrom('pairing_codes').where('expires_at', '<', iso(now)).execute();
      await tx.insertInto('pairing_codes').values(row).execute();
    });
    return `${code.slice(0, 4)}-${code.slice(4)}`;
  }

  /** A new device's token, or null for a code that does not hold. */
  async pair(typed: string, now = Date.now()): Promise<{ token: string; grant: Grant } | null> {
    const paired = await this.#pair(typed, now);
    this.onTried(paired !== null);
    return paired;
  }

  async #pair(typed: string, now: number): Promise<{ token: string; grant: Grant } | null> {
    const code = typed.toUpperCase().replace(/[^A-Z0-9]/g, '');
    if (code.length !== CODE_LENGTH) return null;
    const codes = await this.#storage.read((tx) =>
      tx.selectFrom('pairing_codes').selectAll().where('expires_at', '>=', iso(now)).execute(),
    );
    for (const { id: codeId, salt, hash, archer_id } of codes) {
      const derived = await derive(code, Buffer.from(salt, 'hex'), HASH_BYTES);
      if (!timingSafeEqual(derived, Buffer.from(hash, 'hex'))) continue;
      const token = randomBytes(32).toString('base64url');
      const id = randomUUID();
      const row = { id, token_sha256: tokenHash(token), archer_id, paired_at: iso(now) };
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
        return true;
      });
      return isFirst ? { token, grant: { deviceId: id, archerId: archer_id } } : null;
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
    const row = await this.#storage.read((tx) =>
      tx
        .selectFrom('devices')
        .selectAll()
        .where('token_sha256', '=', tokenHash(token))
        .executeTakeFirst(),
    );
    // A damaged row might let in to more than was granted.
    return row && row.seal === sealOf(row) ? { deviceId: row.id, archerId: row.archer_id } : null;
  }

  async devices(): Promise<Device[]> {
    const rows = await this.#storage.read((tx) =>
      tx.selectFrom('devices').selectAll().orderBy('paired_at').orderBy('id').execute(),
    );
    return rows.map(({ id, archer_id, paired_at }) => ({
      id,
      archerId: archer_id,
      pairedAt: paired_at,
    }));
  }

  /** Ends a device's access at once; without an id that of all, and every open code. */
  async revoke(id?: string): Promise<number> {
    return this.#storage.write(async (tx) => {
      const query = tx.deleteFrom('devices');
      const { numDeletedRows } = await (
        id === undefined ? query : query.where('id', '=', id)
      ).executeTakeFirst();
      if (id === undefined) await tx.deleteFrom('pairing_codes').execute();
      return Number(numDeletedRows);
    });
  }
}

/** Tokens are 256 random bits: a plain hash cannot be searched. */
function tokenHash(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

function iso(ms: number): string {
  return new Date(ms).toISOString();
}
