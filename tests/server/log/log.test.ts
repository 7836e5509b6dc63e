import {
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import exifr from 'exifr';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arrowsCsv, endsCsv } from '../../../src/tables/log-csv.ts';
import { exportLog } from '../../../server/log/export-log.ts';
import { Log } from '../../../server/log/log.ts';
import { MIGRATIONS } from '../../../server/log/migrations.ts';
import { openDamaged } from '../../../server/log/open-damaged.ts';
import { readBow } from '../../../server/log/read-bow.ts';
import { sealOf } from '../../../server/log/seal.ts';
import { versionOfEnd } from '../../../server/log/version-of.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { asked, ENGINES, newAddress, photosIn, type Engine } from './engines.ts';
import { whatIsThere } from './what-is-there.ts';
import { fillSample, sampleEnd, sampleSetUp } from './sample-log.ts';

const root = temporaryFolder();
const open: Log[] = [];
async function sampleLog(
  maxPages?: number,
  engine: Engine = 'SQLite',
): Promise<{ log: Log; folder: string }> {
  const folder = await newAddress(engine, root);
  const log = await Log.open(folder, maxPages === undefined ? {} : { maxPages });
  open.push(log);
  await fillSample(log);
  return { log, folder };
}
afterAll(() => Promise.all(open.map((log) => log.close())));

async function photoOf(colour: string): Promise<Buffer> {
  return sharp({ create: { width: 40, height: 30, channels: 3, background: colour } })
    .jpeg()
    .withMetadata({ orientation: 6 })
    .withExifMerge({
      IFD0: { Make: 'Camera' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '53/1 33/1 0/1' },
    })
    .toBuffer();
}

describe.each(ENGINES)('Log in %s', (engine) => {
  const sampleIn = () => sampleLog(undefined, engine);

  it('keeps what it was given, also after closing', async () => {
    const { log, folder } = await sampleIn();
    const end = sampleEnd('ilka', 1, { notes: 'gust', setAside: true });
    await log.putEnd(end);
    await log.putSetUp(sampleSetUp('ilka'));
    const again = await Log.open(folder);
    expect(await again.ends('ilka')).toEqual([{ ...end, sourceSha256: null }]);
    expect(await again.setUps('ilka-bow')).toEqual([sampleSetUp('ilka')]);
    expect((await again.bowLog('ilka-bow')).sessions.map((one) => one.place)).toEqual([
      'Heron meadow',
    ]);
    await again.close();
  });

  it('replaces an end that is sent again, with its arrows, and keeps its photo', async () => {
    const { log, folder } = await sampleIn();
    const kept = await log.putEnd(sampleEnd('ilka', 1), await photoOf('red'));
    await log.putEnd(sampleEnd('ilka', 1, { arrows: [] }));
    expect(await log.end('ilka-end-1')).toMatchObject({ arrows: [], photo: kept.photo });
    // A new photo takes the old one's place on the disk too.
    await log.putEnd(sampleEnd('ilka', 1), await photoOf('blue'));
    expect(await photosIn(folder)).toHaveLength(1);
    await log.deleteEnd('ilka-end-1');
    expect(await photosIn(folder)).toEqual([]);
  });

  it('keeps photos upright and without place, device or time', async () => {
    const { log } = await sampleIn();
    const sent = await photoOf('red');
    const tags = { Make: 'Camera', GPSLatitudeRef: 'N' };
    expect(await exifr.parse(sent, true)).toMatchObject(tags);
    const { photo } = await log.putEnd(sampleEnd('ilka', 1), sent);
    const stored = await log.photos.read(photo!.file);
    expect(await exifr.parse(stored, true)).toBeUndefined();
    const { width, height } = await sharp(stored).metadata();
    expect([width, height]).toEqual([30, 40]);
  });

  it('notices the same photo twice, for one archer', async () => {
    const { log, folder } = await sampleIn();
    const photo = await photoOf('red');
    await log.putEnd(sampleEnd('ilka', 1), photo);
    await expect(log.putEnd(sampleEnd('ilka', 2), photo)).rejects.toThrow(
      'This photo is kept already, with the end of 2031-05-04 18:01',
    );
    expect(await photosIn(folder)).toHaveLength(1);
    // Two archers on one boss may share a picture; and the same end may be sent again.
    await log.putEnd(sampleEnd('tomas', 1), photo);
    await log.putEnd(sampleEnd('ilka', 1), photo);
    expect(await photosIn(folder)).toHaveLength(2);
  });

  it('deletes an archer with everything, photos included, and says how much', async () => {
    const { log, folder } = await sampleIn();
    await log.putEnd(sampleEnd('ilka', 1), await photoOf('red'));
    await log.putEnd(sampleEnd('ilka', 2));
    await log.putEnd(sampleEnd('tomas', 1), await photoOf('blue'));
    expect(await log.deleteArcher('ilka')).toEqual({ ends: 2, photos: 1 });
    const left = await log.everything();
    expect(left.archers.map((archer) => archer.id)).toEqual(['tomas']);
    expect([left.bows.length, left.setUps.length, left.sessions.length]).toEqual([1, 1, 1]);
    expect(left.ends).toHaveLength(1);
    expect(await photosIn(folder)).toHaveLength(1);
    await expect(log.deleteArcher('ilka')).rejects.toMatchObject({ code: 'unknown-archer' });
  });

  it('refuses what cannot be, in a sentence', async () => {
    const { log } = await sampleIn();
    await expect(log.putEnd(sampleEnd('ilka', 1, { sessionId: 'nope' }))).rejects.toMatchObject({
      code: 'unknown-session',
    });
    await expect(
      log.putSetUp({ ...sampleSetUp('ilka', 'new'), bowId: 'nope' }),
    ).rejects.toMatchObject({ code: 'unknown-bow' });
    await expect(
      log.putSetUp({ ...sampleSetUp('ilka'), preferredMrad: [9, 9] }),
    ).rejects.toMatchObject({ code: 'snapshot-changed' });
    const before = await log.everything();
    await expect(
      log.putSetUp({
        ...sampleSetUp('ilka', 'new'),
        settings: { plunger: { type: 'dial', line: 2, mark: 99 } },
      }),
    ).rejects.toMatchObject({
      code: 'bad-set-up',
      message: 'Plunger: the dial has 10 positions per line, so its mark is 0 to 9, not 99.',
    });
    await expect(
      log.putSetUp({
        ...sampleSetUp('ilka', 'new'),
        settings: { 'brace-height': { type: 'number', value: -220 } },
      }),
    ).rejects.toMatchObject({
      code: 'bad-set-up',
      message: expect.stringMatching(/^Brace height: -220 mm cannot be.*\.$/) as string,
    });
    expect(await log.everything()).toEqual(before);
    await expect(log.putEnd(sampleEnd('ilka', 1), Buffer.from('no photo'))).rejects.toMatchObject({
      code: 'not-a-photo',
    });
    expect(await log.ends()).toEqual([]);
  });

  it('sorts names as the other engine does, whatever the language of the database', async () => {
    const { log } = await sampleIn();
    for (const name of ['zoë', 'Zoe', 'ähm', 'Éa', 'e a', '10', '9', 'Ea']) {
      await log.putArcher({ id: `id-${name}`, name, hand: 'right', notes: '' });
    }
    expect((await log.archers()).map(({ name }) => name)).toEqual([
      '10',
      '9',
      'Ea',
      'Ilka Brandt',
      'Tomás Ferro',
      'Zoe',
      'e a',
      'zoë',
      'Éa',
      'ähm',
    ]);
  });

  it('keeps numbers to the last bit, and texts of any script', async () => {
    const { log, folder } = await sampleIn();
    const end = sampleEnd('ilka', 1, {
      notes: 'Wind \u{1f3f9} – "von links" \\ \'; DROP TABLE ends; -- \n\t ر',
      arrows: [
        { id: 'm1', mm: [0.1 + 0.2, -1e-17], sdMm: Number.MIN_VALUE, spot: Number.MAX_SAFE_INTEGER, kind: 'bare', zone: 0, inner: false }, // prettier-ignore
        { id: 'm2', mm: [Number.MAX_VALUE, -123456.789], spot: 0, kind: 'unknown', zone: 10, inner: true }, // prettier-ignore
      ],
    });
    await log.putEnd(end);
    const again = await Log.open(folder);
    expect(await again.end(end.id)).toEqual({ ...end, sourceSha256: null });
    await again.close();
  });

  it('keeps all that several write at once, and each of them once', async () => {
    const { log, folder } = await sampleIn();
    const other = await Log.open(folder);
    const photo = await photoOf('red');
    const both = [log, other];
    await Promise.all(
      Array.from({ length: 24 }, (_, i) => both[i % 2]!.putEnd(sampleEnd('ilka', i % 12))),
    );
    expect(await log.ends('ilka')).toHaveLength(12);
    // The same photo for two ends, at the same moment: one of them is told.
    const tried = await Promise.allSettled([
      log.putEnd(sampleEnd('tomas', 1), photo),
      other.putEnd(sampleEnd('tomas', 2), photo),
    ]);
    const refused = tried.flatMap((one) =>
      one.status === 'rejected' ? [(one.reason as { code: string }).code] : [],
    );
    expect(refused).toEqual(['same-photo']);
    expect(await photosIn(folder)).toHaveLength(1);
    // An end that is deleted by one, and changed by the other who has seen it as it was.
    const [end] = await log.ends('tomas');
    const version = versionOfEnd(end!);
    const at = await Promise.allSettled([
      log.deleteEnd(end!.id, version),
      other.putEnd({ ...end!, notes: 'changed' }, undefined, version),
    ]);
    expect(at.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    await other.close();
  });

  it('lets one device in by one code, however many try it at once', async () => {
    const { log, folder } = await sampleIn();
    const other = await Log.open(folder);
    const code = await log.devices.newCode({ role: 'archer', archerId: 'ilka' });
    const tries = await Promise.all(
      Array.from({ length: 6 }, (_, i) => (i % 2 ? log : other).devices.pair(code)),
    );
    const [paired, ...more] = tries.filter((one) => one !== null);
    expect(more).toEqual([]);
    expect(await other.devices.grantOf(paired!.token)).toMatchObject({ archerId: 'ilka' });
    expect(await log.devices.hasOpenCode()).toBe(false);
    await log.deleteArcher('ilka');
    expect(await other.devices.grantOf(paired!.token)).toBeNull();
    await other.close();
  });

  it('does not answer with a row that was altered past it', async () => {
    const { log, folder } = await sampleIn();
    await log.putEnd(sampleEnd('ilka', 1));
    const change = "UPDATE ends SET notes = 'nobody wrote this'";
    if (engine === 'SQLite') new Database(join(folder, 'log.sqlite')).exec(change);
    else await asked(folder, change);
    await expect(log.ends()).rejects.toMatchObject({ code: 'damaged-log' });
    expect((await whatIsThere(log)).missing).toEqual([
      'The log is damaged where it keeps the end "ilka-end-1".',
    ]);
    expect(await log.isSound()).toBe(true);
  });
});

describe('Log in the files of SQLite', () => {
  it('leaves nothing of a deleted archer in them', async () => {
    const { log, folder } = await sampleLog();
    await log.deleteArcher('ilka');
    // Not even in free pages, and there is no other file.
    const bytes = readFileSync(join(folder, 'log.sqlite')).toString('latin1');
    expect(bytes).not.toContain('Ilka Brandt');
    expect(readdirSync(folder).sort()).toEqual(['log.sqlite', 'photos']);
  });

  it('deletes no photo because its row is missing, and takes it back with its log', async () => {
    const { log, folder } = await sampleLog();
    const { photo } = await log.putEnd(sampleEnd('ilka', 1), await photoOf('red'));
    writeFileSync(join(folder, 'photos', 'being-kept.jpg'), '');
    await log.close();
    const path = (name: string) => join(folder, name);
    utimesSync(path(`photos/${photo!.file}`), 0, 0);
    // As a person does whose log is damaged: away with it, and start anew.
    renameSync(path('log.sqlite'), path('moved-away.sqlite'));
    const anew = await Log.open(folder);
    expect(anew.tidied).toEqual({ putAside: [photo!.file], takenBack: [] });
    expect(readdirSync(path('photos-without-end'))).toEqual([photo!.file]);
    expect(await photosIn(folder)).toEqual(['being-kept.jpg']);
    await anew.close();
    renameSync(path('moved-away.sqlite'), path('log.sqlite'));
    const again = await Log.open(folder);
    expect(again.tidied).toEqual({ putAside: [], takenBack: [photo!.file] });
    expect(await again.photos.readSound(photo!)).toHaveLength(
      (await again.photos.read(photo!.file)).length,
    );
    await again.close();
  });

  it('takes an empty file for no new log, and leaves none behind where it makes one', async () => {
    const folder = join(root, 'emptied');
    const log = await Log.open(folder);
    await fillSample(log);
    await log.close();
    expect(statSync(join(folder, 'log.sqlite')).mode & 0o777).toBe(0o600);
    writeFileSync(join(folder, 'log.sqlite'), '');
    await expect(Log.open(folder)).rejects.toMatchObject({
      code: 'damaged-log',
      message: expect.stringMatching(/^The log file .* is empty, .*\.$/) as string,
    });
    expect(readFileSync(join(folder, 'log.sqlite'))).toHaveLength(0);
  });

  it('does not roll the journal of a log that was moved away into a new one', async () => {
    const folder = join(root, 'journal');
    mkdirSync(folder);
    writeFileSync(join(folder, 'log.sqlite-journal'), 'of another log');
    await (await Log.open(folder)).close();
    const left = readdirSync(folder).filter((name) => name.startsWith('log.sqlite-journal'));
    expect(left).toEqual([expect.stringContaining('-of-moved-log-')]);
  });

  it('waits for another process that is writing, without holding up this one', async () => {
    const { log, folder } = await sampleLog();
    const other = new Database(join(folder, 'log.sqlite'));
    other.exec('BEGIN IMMEDIATE');
    let turns = 0;
    const turning = setInterval(() => turns++, 10);
    let isKept = false;
    const keeping = log.putEnd(sampleEnd('ilka', 1)).then(() => (isKept = true));
    await expect.poll(() => turns).toBeGreaterThan(5);
    expect(isKept).toBe(false);
    other.exec('COMMIT');
    await keeping;
    clearInterval(turning);
    const hasty = await Log.open(folder, { patienceMs: 50 });
    other.exec('BEGIN IMMEDIATE');
    await expect(hasty.putEnd(sampleEnd('ilka', 2))).rejects.toMatchObject({ code: 'log-busy' });
    other.exec('COMMIT');
    other.close();
    await hasty.close();
  });

  it('says where it is damaged, and never answers with what was not kept', async () => {
    const { log, folder } = await sampleLog();
    await log.putEnd(sampleEnd('ilka', 1, { notes: 'a gust from the left' }));
    await log.close();
    open.splice(open.indexOf(log), 1);
    const path = join(folder, 'log.sqlite');
    const bytes = readFileSync(path);
    bytes[bytes.indexOf('a gust from the left') + 2]! ^= 1;
    writeFileSync(path, bytes);
    const damaged = await Log.open(folder);
    expect(await damaged.archers()).toHaveLength(2);
    await expect(damaged.ends()).rejects.toMatchObject({
      code: 'damaged-log',
      message: expect.stringContaining('where it keeps the end "ilka-end-1"') as string,
    });
    const there = await whatIsThere(damaged);
    expect([there.ends.length, there.sessions.length]).toEqual([0, 2]);
    expect(there.missing).toEqual(['The log is damaged where it keeps the end "ilka-end-1".']);
    await damaged.close();
  });

  it('refuses a log from a newer endwise and a damaged one, and changes neither', async () => {
    const { log, folder } = await sampleLog();
    await log.close();
    open.splice(open.indexOf(log), 1);
    const path = join(folder, 'log.sqlite');
    const newer = new Database(path);
    newer.pragma('user_version = 99');
    newer.exec('ALTER TABLE archers ADD COLUMN club TEXT');
    newer.close();
    await expect(Log.open(folder)).rejects.toMatchObject({
      code: 'newer-log',
      message: 'The log was written by a newer endwise: update endwise, nothing was changed.',
    });
    const left = new Database(path);
    expect(left.pragma('user_version', { simple: true })).toBe(99);
    expect(left.prepare('SELECT id, club FROM archers ORDER BY id').all()).toEqual([
      { id: 'ilka', club: null },
      { id: 'tomas', club: null },
    ]);
    left.close();
    writeFileSync(path, 'x'.repeat(5000));
    await expect(Log.open(folder)).rejects.toMatchObject({ code: 'damaged-log' });
    expect(readFileSync(path, 'utf8')).toBe('x'.repeat(5000));
  });

  it('says so when there is no room, and loses nothing', async () => {
    const { log } = await sampleLog(60);
    await log.putEnd(sampleEnd('ilka', 1));
    const keepMany = async () => {
      for (let i = 2; i < 500; i++) {
        await log.putEnd(sampleEnd('ilka', i, { notes: 'wind '.repeat(500) }));
      }
    };
    await expect(keepMany()).rejects.toMatchObject({ code: 'disk-full' });
    expect(await log.isSound()).toBe(true);
    expect(await log.end('ilka-end-1')).toMatchObject({ arrows: [{}, {}, {}] });
  });
});

describe('a log of an earlier endwise', () => {
  it('no longer takes a distance for said that the page made up, and says of how many ends', async () => {
    const folder = join(root, 'earlier');
    mkdirSync(folder);
    const old = new Database(join(folder, 'log.sqlite'));
    for (const change of MIGRATIONS.slice(0, 3)) change(old);
    old.pragma('user_version = 3');
    const put = (table: string, row: { id: string }) => {
      const sealed = { ...row, seal: sealOf(row) };
      const names = Object.keys(sealed);
      old
        .prepare(
          `INSERT INTO ${table} (${names.join()}) VALUES (${names.map((n) => `@${n}`).join()})`,
        )
        .run(sealed);
    };
    put('archers', { id: 'ilka', name: 'Ilka Brandt', hand: 'right', notes: '' } as { id: string });
    put('bows', { id: 'bow', archer_id: 'ilka', name: 'Bow', hand: 'right', adjusters: '[]', notes: '' } as { id: string }); // prettier-ignore
    put('set_ups', { id: 'first', bow_id: 'bow', name: 'First', date: '2031-05-01T10:00:00Z', settings: '{}', preferred_right_mrad: 0, preferred_up_mrad: 0, notes: '' } as { id: string }); // prettier-ignore
    const sessions = [
      { id: 'bow-2031-05-04-18m-wa122', face: 'wa122', distance_m: 18, setting: 'indoor' },
      { id: 'bow-2031-05-05-18m-wa40', face: 'wa40', distance_m: 18, setting: 'indoor' },
      { id: 'typed-in', face: 'wa122', distance_m: 18, setting: 'indoor' },
      { id: 'bow-2031-05-06-70m-wa122', face: 'wa122', distance_m: 70, setting: 'outdoor' },
    ];
    for (const [i, session] of sessions.entries()) {
      put('sessions', { ...session, archer_id: 'ilka', bow_id: 'bow', set_up_id: 'first', date: `2031-05-0${i + 1}T00:00:00Z`, place: '', wind: '', notes: '' } as { id: string }); // prettier-ignore
      put('ends', { id: `end-${i}`, session_id: session.id, archer_id: 'ilka', set_up_id: 'first', shot_at: `2031-05-0${i + 1}T10:00:00Z`, missed_fletched: 0, missed_bare: 0, photo_file: null, photo_sha256: null, source_sha256: null, set_aside: 0, notes: '' } as { id: string }); // prettier-ignore
    }
    old.close();

    // What a rescue saves of it unopened says in its version that distances may be made up.
    const unopened = openDamaged(folder);
    await exportLog(unopened, join(root, 'earlier.zip'));
    unopened.close();

    const log = await Log.open(folder);
    open.push(log);
    const kept = (await log.sessions()).map(({ distanceM, setting }) => [distanceM, setting]);
    expect(kept).toEqual([
      [null, null],
      [18, 'indoor'],
      [18, 'indoor'],
      [70, 'outdoor'],
    ]);
    expect(log.migrated).toEqual([
      '1 end of which nobody had said the distance was kept as of 18 m: it is unknown now, and the log learns no angles from it. ' +
        'Whether anybody said the distance of 1 end more at 18 m only the device that kept them knows: open the page there once, and what was not said is handed over anew.',
    ]);
    const again = await Log.open(folder);
    expect(again.migrated).toEqual([]);
    await again.close();

    const taken = await Log.open(join(root, 'taken'));
    open.push(taken);
    const { ends, madeUp } = await takeArchiveIn(taken, join(root, 'earlier.zip'));
    expect([ends, madeUp]).toEqual([4, log.migrated[0]]);
    expect(await taken.sessions()).toEqual(await log.sessions());
  });

  it('keeps numbers of arrows and the rule of scoring, also through an archive and in tables', async () => {
    const { log } = await sampleLog();
    const plain = sampleEnd('ilka', 8);
    const arrows = plain.arrows.map((arrow, i) => (i === 1 ? { ...arrow, arrowNumber: '3B' } : arrow)); // prettier-ignore
    const end = { ...plain, scoring: 'five-zones' as const, arrows };
    await log.putEnd(end);
    const path = join(root, 'numbers.zip');
    await exportLog(log, path);
    const taken = await Log.open(join(root, 'numbers'));
    open.push(taken);
    await takeArchiveIn(taken, path);
    expect((await taken.ends()).find(({ id }) => id === end.id)).toMatchObject(end);
    expect(arrowsCsv(await taken.everything())).toContain(',10,yes,3B\r\n');
    expect(endsCsv(await taken.everything())).toContain(',five-zones,1,golds,');
    expect(versionOfEnd(end)).not.toBe(versionOfEnd(plain));
  });

  it('takes over ends from before there were numbers, and a damaged one stays damaged', async () => {
    const folder = join(root, 'before-numbers');
    mkdirSync(folder);
    const old = new Database(join(folder, 'log.sqlite'));
    for (const migration of MIGRATIONS.slice(0, 5)) migration(old);
    old.pragma('user_version = 5');
    const put = (table: string, row: object, parts: object[] = []) => {
      const sealed = table === 'arrows' ? row : { ...row, seal: sealOf(row, parts) };
      const names = Object.keys(sealed);
      old.prepare(`INSERT INTO ${table} (${names.join()}) VALUES (${names.map((n) => `@${n}`).join()})`).run(sealed); // prettier-ignore
    };
    put('archers', { id: 'ilka', name: 'Ilka Brandt', hand: 'right', notes: '' });
    put('bows', { id: 'bow', archer_id: 'ilka', name: 'Bow', hand: 'right', adjusters: '[]', notes: '', archived: 0 }); // prettier-ignore
    put('set_ups', { id: 'first', bow_id: 'bow', name: 'First', date: '2031-05-01T10:00:00Z', settings: '{}', preferred_right_mrad: 0, preferred_up_mrad: 0, notes: '', archived: 0 }); // prettier-ignore
    put('sessions', { id: 's', archer_id: 'ilka', bow_id: 'bow', set_up_id: 'first', date: '2031-05-01T10:00:00Z', place: '', wind: '', notes: '', face: 'wa80', distance_m: 30, setting: 'outdoor' }); // prettier-ignore
    for (const id of ['sound', 'damaged']) {
      const arrow = { end_id: id, place: 0, id: 'm1', x_mm: 1, y_mm: 2, sd_mm: null, spot: 0, kind: 'fletched', zone: 10, inner: 1 }; // prettier-ignore
      put('ends', { id, session_id: 's', archer_id: 'ilka', set_up_id: 'first', shot_at: '2031-05-01T10:00:00Z', missed_fletched: 0, missed_bare: 0, photo_file: null, photo_sha256: null, source_sha256: null, set_aside: 0, notes: '' }, [arrow]); // prettier-ignore
      put('arrows', id === 'damaged' ? { ...arrow, x_mm: 5 } : arrow);
    }
    old.close();
    const log = await Log.open(folder);
    open.push(log);
    const there = await whatIsThere(log);
    expect(there.ends).toMatchObject([{ id: 'sound', scoring: 'as-printed' }]);
    expect(there.ends[0]!.arrows[0]).not.toHaveProperty('arrowNumber');
    expect(there.missing).toEqual([expect.stringContaining('"damaged"')]);
  });

  it('keeps an end without a distance as it is, also through an archive', async () => {
    const { log } = await sampleLog();
    const [session] = await log.sessions('ilka');
    const unsaid = { ...session!, id: 'unsaid', distanceM: null, setting: null };
    await log.putSession(unsaid);
    await log.putEnd(sampleEnd('ilka', 7, { sessionId: 'unsaid' }));
    const path = join(root, 'unsaid.zip');
    await exportLog(log, path);
    const taken = await Log.open(join(root, 'unsaid'));
    open.push(taken);
    await takeArchiveIn(taken, path);
    expect((await taken.sessions('ilka')).find(({ id }) => id === 'unsaid')).toEqual(unsaid);
    const reading = readBow(await taken.bowLog('ilka-bow'));
    expect(reading.timeline.points).toMatchObject([{ distanceM: null, spread: null, arrows: 3 }]);
    expect(reading.record).toBeNull();
    expect(reading.withoutDistance).toMatch(/^1 end has no distance/);
    expect(endsCsv(await taken.everything())).toContain('Heron meadow,,,,');
  });
});

describe('CSV', () => {
  let ends: string;
  let arrows: string;
  beforeAll(async () => {
    const { log } = await sampleLog();
    await log.putEnd(sampleEnd('tomas', 1, { notes: '=HYPERLINK("http://x.example")' }));
    await log.putEnd(sampleEnd('tomas', 2, { notes: '@SUM(A1)' }));
    const everything = await log.everything();
    [ends, arrows] = [endsCsv(everything), arrowsCsv(everything)];
  });

  it('has a row for each end and each arrow, with numbers that stay numbers', () => {
    expect(ends.split('\r\n')).toHaveLength(4);
    expect(ends).toContain('Tomás Ferro,Outdoor bow,First,Heron meadow,outdoor,,30');
    expect(arrows).toContain(',m1,fletched,0,-31.8,12.4,0.4,10,no,\r\n');
    expect(arrows.split('\r\n')).toHaveLength(8);
  });

  it('has no cell that a spreadsheet would run', () => {
    expect(ends).toContain('"\'=HYPERLINK(""http://x.example"")"');
    expect(ends).toContain("'@SUM(A1)");
  });
});
