import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely, PostgresDialect } from 'kysely';
import { Pool } from 'pg';
import sharp from 'sharp';
import { describe, expect, it, onTestFinished } from 'vitest';
import { exportLog } from '../../../server/log/export-log.ts';
import { Log } from '../../../server/log/log.ts';
import { MIGRATIONS } from '../../../server/log/migrations.ts';
import { POSTGRES_MIGRATIONS } from '../../../server/log/postgres-migrations.ts';
import { sealOf } from '../../../server/log/seal.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import type { Tables } from '../../../server/log/tables.ts';
import { COMMAND_LINE, TRAIL_DAYS, type Actor } from '../../../server/log/trail.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { asked, ENGINES, newAddress, type Engine } from './engines.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

const root = temporaryFolder();

async function opened(address: string): Promise<Log> {
  const log = await Log.open(address);
  onTestFinished(() => log.close());
  return log;
}

/** Runs statements past the log. */
async function change(engine: Engine, address: string, text: string): Promise<void> {
  if (engine === 'PostgreSQL') {
    await asked(address, text);
    return;
  }
  const connection = new Database(join(address, 'log.sqlite'));
  connection.exec(text);
  connection.close();
}

const DESK: Actor = { deviceId: 'desk', label: 'club desk', role: 'keeper' };
const PHONE: Actor = { deviceId: 'phone-1', label: 'phone of Ilka', role: 'archer' };

const OLD_DEVICES = [
  { id: 'd1', token_sha256: 'a', archer_id: null, paired_at: '2031-05-04T10:00:00.000Z' },
  { id: 'd2', token_sha256: 'b', archer_id: 'ilka', paired_at: '2031-05-05T10:00:00.000Z' },
] as const;
const DAMAGED = { id: 'd3', token_sha256: 'c', archer_id: null, paired_at: '2031-05-06T10:00:00.000Z', seal: 'x' } as const; // prettier-ignore
const ARCHER = { id: 'ilka', name: 'Ilka Brandt', hand: 'right', notes: '' } as const;

/** A log as it was before devices stood for anything, with three devices, one of them damaged. */
async function before(engine: Engine): Promise<string> {
  const rows = [...OLD_DEVICES.map((row) => ({ ...row, seal: sealOf(row) })), DAMAGED];
  const archer = { ...ARCHER, seal: sealOf(ARCHER) };
  if (engine === 'SQLite') {
    const folder = join(root, 'before-people');
    mkdirSync(folder);
    const old = new Database(join(folder, 'log.sqlite'));
    for (const step of MIGRATIONS.slice(0, 6)) step(old);
    old.pragma('user_version = 6');
    old.prepare('INSERT INTO archers VALUES (@id, @name, @hand, @notes, @seal)').run(archer);
    const put = old.prepare(
      'INSERT INTO devices VALUES (@id, @token_sha256, @archer_id, @paired_at, @seal)',
    );
    for (const row of rows) put.run(row);
    old.close();
    return folder;
  }
  const address = await newAddress(engine, root);
  const db = new Kysely<Tables>({
    dialect: new PostgresDialect({ pool: new Pool({ connectionString: address }) }),
  });
  await db.transaction().execute((tx) => POSTGRES_MIGRATIONS[0]!(tx));
  await db.destroy();
  await asked(address, 'CREATE TABLE endwise_layout (version integer NOT NULL)');
  await asked(address, 'INSERT INTO endwise_layout VALUES (1)');
  await asked(address, 'INSERT INTO archers VALUES ($1, $2, $3, $4, $5)', Object.values(archer));
  for (const row of rows) {
    const { id, token_sha256, archer_id, paired_at, seal } = row;
    const values = [id, token_sha256, archer_id, paired_at, seal];
    await asked(address, 'INSERT INTO devices VALUES ($1, $2, $3, $4, $5)', values);
  }
  return address;
}

describe.each(ENGINES)('people of a log in %s', (engine) => {
  it('takes over devices of an earlier endwise: those of nobody keep the log', async () => {
    const address = await before(engine);
    const log = await opened(address);
    expect(await log.devices.devices()).toEqual([
      { id: 'd1', label: 'paired 2031-05-04', holder: { role: 'keeper' }, pairedAt: OLD_DEVICES[0].paired_at }, // prettier-ignore
      { id: 'd2', label: 'paired 2031-05-05', holder: { role: 'archer', archerId: 'ilka' }, pairedAt: OLD_DEVICES[1].paired_at }, // prettier-ignore
      { id: 'd3', label: 'paired 2031-05-06', holder: { role: 'keeper' }, pairedAt: DAMAGED.paired_at }, // prettier-ignore
    ]);
    const rows = engine === 'PostgreSQL' ? await asked<Tables['devices']>(address, 'SELECT * FROM devices ORDER BY id') : sqliteDevices(address); // prettier-ignore
    expect(rows.map((row) => row.seal === sealOf(row))).toEqual([true, true, false]);
    expect(await log.trail.entries()).toEqual([]);
  });

  it('grants what its holder may, and nothing by a row that was changed past it', async () => {
    const address = await newAddress(engine, root);
    const log = await opened(address);
    await fillSample(log);
    const coach = { id: 'marta', name: 'Marta Quell', archerIds: ['ilka'] };
    await log.coaches.put(coach, COMMAND_LINE);
    const paired = async (...holder: Parameters<typeof log.devices.newCode>) =>
      (await log.devices.pair(await log.devices.newCode(...holder)))!;
    const tablet = await paired({ role: 'coach', coachId: 'marta' }, { label: 'range tablet' });
    const phone = await paired({ role: 'archer', archerId: 'tomas' });
    const grantOf = ({ token }: { token: string }) => log.devices.grantOf(token);
    expect(await grantOf(tablet)).toEqual({
      deviceId: tablet.deviceId,
      label: 'range tablet',
      role: 'coach',
      archerId: null,
      coachId: 'marta',
      coached: new Set(['ilka']),
    });
    expect(await grantOf(phone)).toMatchObject({
      role: 'archer',
      archerId: 'tomas',
      label: expect.stringMatching(/^archer device [0-9a-f]{4}$/) as string,
    });
    await log.coaches.put({ ...coach, archerIds: ['tomas'] }, COMMAND_LINE);
    expect((await grantOf(tablet))!.coached).toEqual(new Set(['tomas']));
    // Whoever can write into the database past the log could do all this anyway; damage should not.
    await change(engine, address, "UPDATE coached SET archer_id = 'ilka'");
    expect((await grantOf(tablet))!.coached).toEqual(new Set());
    await change(engine, address, "UPDATE devices SET role = 'keeper', archer_id = NULL");
    expect(await grantOf(phone)).toBeNull();
    await expect(log.devices.newCode({ role: 'coach', coachId: 'nobody' })).rejects.toMatchObject({
      code: 'unknown-coach',
    });
    await log.coaches.put({ ...coach, archerIds: ['ilka', 'tomas'] }, COMMAND_LINE);
    await log.coaches.delete('marta', COMMAND_LINE);
    expect(await grantOf(tablet)).toBeNull();
    expect((await log.archers()).map(({ id }) => id)).toEqual(['ilka', 'tomas']);
    // Who may see a record is a change of the archer whose it is.
    const deeds = (await log.trail.entries())
      .slice(0, 3)
      .map(({ done, archerId }) => [done, archerId]);
    expect(deeds).toEqual([
      ['changed', 'tomas'],
      ['changed', 'ilka'],
      ['deleted', null],
    ]);
  });

  it('writes who changed what, with the change or not at all, and nothing of its content', async () => {
    const log = await opened(await newAddress(engine, root));
    await fillSample(log);
    const start = (await log.trail.entries())[0]!.number;
    const since = async () =>
      (await log.trail.entries()).filter(({ number }) => number > start).reverse();
    const end = sampleEnd('ilka', 1, { notes: 'gust from the left' });
    await log.putEnd(end, undefined, undefined, PHONE);
    // Sent again, as clients do that are not sure: no deed.
    await log.putEnd(end, undefined, undefined, PHONE);
    await log.putEnd({ ...end, notes: 'calm' }, undefined, undefined, DESK);
    await expect(log.putEnd(end, undefined, 'other', DESK)).rejects.toMatchObject({ code: 'changed-elsewhere' }); // prettier-ignore
    await expect(log.deleteSetUp('ilka-first', undefined, DESK)).rejects.toMatchObject({ code: 'in-use' }); // prettier-ignore
    await log.deleteEnd(end.id, undefined, DESK);
    expect(await since()).toMatchObject([
      { by: PHONE, done: 'kept', kind: 'end', id: end.id, archerId: 'ilka' },
      { by: DESK, done: 'changed', kind: 'end', id: end.id, archerId: 'ilka' },
      { by: DESK, done: 'deleted', kind: 'end', id: end.id, archerId: 'ilka' },
    ]);
    expect(JSON.stringify(await log.trail.entries())).not.toMatch(/gust|calm/);
    const [newest] = await log.trail.entries();
    expect(await log.trail.entries({ before: newest!.number, most: 1 })).toMatchObject([{ done: 'changed' }]); // prettier-ignore
    expect(await log.trail.entries({ archerId: 'tomas' })).not.toEqual([]);
    expect(await log.trail.entries({ since: '2999-01-01' })).toEqual([]);
    // Two years on.
    await log.trail.sweep(Date.now() + (TRAIL_DAYS - 1) * 24 * 3600_000);
    expect(await log.trail.entries()).not.toEqual([]);
    await log.trail.sweep(Date.now() + (TRAIL_DAYS + 1) * 24 * 3600_000);
    expect(await log.trail.entries()).toEqual([]);
  });

  it('outlives an archer in the trail, without naming them anywhere', async () => {
    const address = await newAddress(engine, root);
    const log = await opened(address);
    await fillSample(log);
    await log.coaches.put({ id: 'marta', name: 'Marta Quell', archerIds: ['ilka'] }, COMMAND_LINE);
    const code = await log.devices.newCode({ role: 'archer', archerId: 'ilka' }, { label: 'phone of Ilka', by: DESK }); // prettier-ignore
    const { token } = (await log.devices.pair(code))!;
    const { width, height } = { width: 24, height: 18 };
    const photo = await sharp({ create: { width, height, channels: 3, background: 'red' } }).png().toBuffer(); // prettier-ignore
    await log.putEnd(sampleEnd('ilka', 1), photo, undefined, PHONE);
    const deeds = (await log.trail.entries({ archerId: 'ilka' })).length;
    expect(await log.deleteArcher('ilka', PHONE)).toEqual({ ends: 1, photos: 1 });
    expect(await log.devices.grantOf(token)).toBeNull();
    expect((await log.coaches.coaches())[0]!.archerIds).toEqual([]);
    const trail = await log.trail.entries();
    expect(trail[0]).toMatchObject({
      by: { role: 'archer', deviceId: null, label: '' },
      done: 'deleted',
      kind: 'archer',
      id: null,
      archerId: null,
    });
    expect(trail.filter(({ id, archerId }) => id === null && archerId === null)).toHaveLength(deeds + 1); // prettier-ignore
    expect(JSON.stringify(trail)).not.toMatch(/ilka|phone-1/i);
    expect(JSON.stringify(await log.trail.entries({ archerId: 'tomas' }))).toContain('tomas-bow');
    if (engine === 'SQLite') {
      await log.close();
      const bytes = readFileSync(join(address, 'log.sqlite')).toString('latin1');
      expect(bytes).not.toMatch(/ilka/i);
      expect(bytes).toContain('tomas-evening');
    }
  });

  it('leaves people and trail out of an archive, and writes that one was taken in', async () => {
    const log = await opened(await newAddress(engine, root));
    await fillSample(log);
    await log.coaches.put({ id: 'marta', name: 'Marta Quell', archerIds: ['ilka'] }, COMMAND_LINE);
    const path = join(root, `${engine}.zip`);
    await exportLog(log, path);
    await log.noteExport(null, DESK);
    expect((await log.trail.entries())[0]).toMatchObject({
      by: DESK,
      done: 'exported',
      kind: 'log',
    });
    const other = await opened(await newAddress(engine, root));
    await takeArchiveIn(other, path, DESK);
    expect(await other.coaches.coaches()).toEqual([]);
    expect(await other.trail.entries()).toMatchObject([
      { by: DESK, done: 'imported', kind: 'log' },
    ]);
  });
});

function sqliteDevices(folder: string): Tables['devices'][] {
  const connection = new Database(join(folder, 'log.sqlite'), { readonly: true });
  const rows = connection.prepare('SELECT * FROM devices ORDER BY id').all();
  connection.close();
  return rows as Tables['devices'][];
}
