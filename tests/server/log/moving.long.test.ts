import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import sharp from 'sharp';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { exportLog } from '../../../server/log/export-log.ts';
import { importLog } from '../../../server/log/import-log.ts';
import { Log } from '../../../server/log/log.ts';
import { LogError } from '../../../server/log/log-error.ts';
import type { PhotoPlace } from '../../../server/log/photo-store.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { findPostgres } from '../postgres/find-postgres.ts';
import { hasPostgres } from '../postgres/postgres-of-tests.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { ENGINES, newAddress, photosIn, type Engine } from './engines.ts';
import { ARCHERS, fillSample, sampleEnd } from './sample-log.ts';

const root = temporaryFolder();
let archives = 0;
const newArchive = () => join(root, `${archives++}.zip`);

async function opened(engine: Engine): Promise<Log> {
  const log = await Log.open(await newAddress(engine, root));
  onTestFinished(() => log.close());
  return log;
}

const photo = (seed: number) =>
  sharp({
    create: { width: 24, height: 18, channels: 3, background: { r: seed, g: 90, b: 9 } },
  })
    .png()
    .toBuffer();

/** A season of two archers: ends of every kind, some with photos. */
async function season(log: Log): Promise<void> {
  await fillSample(log);
  for (const archer of ARCHERS) {
    for (let number = 0; number < 30; number++) {
      const more = {
        notes: number % 7 === 0 ? 'gust – „links“ 🏹' : '',
        setAside: number % 11 === 0,
        ...(number % 5 === 0 ? { arrows: [] } : {}),
      };
      await log.putEnd(
        sampleEnd(archer, number, more),
        number % 6 === 0 ? await photo(number + archer.length) : undefined,
      );
    }
  }
}

async function expectEqual(one: Log, other: Log): Promise<void> {
  const whole = await one.everything();
  expect(await other.everything()).toEqual(whole);
  expect(await photosIn(other.address)).toEqual(await photosIn(one.address));
  for (const { photo: place } of whole.ends) {
    if (place) {
      expect(await other.photos.readSound(place)).toEqual(await one.photos.readSound(place));
    }
  }
}

describe.skipIf(!hasPostgres)('moving a log', () => {
  it('from SQLite to PostgreSQL and back changes nothing', async () => {
    const first = await opened('SQLite');
    await season(first);
    const [there, back] = [newArchive(), newArchive()];
    expect(await exportLog(first, there)).toEqual({ ends: 60, photos: 10, missing: [] });
    const club = await opened('PostgreSQL');
    expect(await importLog(club, there)).toEqual({ ends: 60, photos: 10 });
    await expectEqual(first, club);
    await expect(importLog(club, there)).rejects.toMatchObject({ code: 'not-empty' });
    expect(await exportLog(club, back)).toEqual({ ends: 60, photos: 10, missing: [] });
    const again = await opened('SQLite');
    await importLog(again, back);
    await expectEqual(first, again);
    // Everything of an archer goes with them, wherever it lies.
    expect(await club.deleteArcher('ilka')).toEqual({ ends: 30, photos: 5 });
    expect(await photosIn(club.address)).toHaveLength(5);
  });
});

it.skipIf(!hasPostgres)('a backup by the means of PostgreSQL is the whole log again', async () => {
  const log = await opened('PostgreSQL');
  await season(log);
  const dump = join(root, 'endwise.dump');
  const run = (name: string, ...args: string[]) =>
    promisify(execFile)(join(findPostgres()!, name), args);
  await run('pg_dump', '--format=custom', `--file=${dump}`, log.address);
  const empty = await newAddress('PostgreSQL', root);
  await run('pg_restore', '--no-owner', `--dbname=${empty}`, dump);
  const restored = await Log.open(empty);
  onTestFinished(() => restored.close());
  expect(restored.migrated).toEqual([]);
  await expectEqual(log, restored);
  await restored.putEnd(sampleEnd('ilka', 59), await photo(200));
});

describe.each(ENGINES)('taking an archive into %s', (engine) => {
  it('goes on where it broke off, and shows nothing of it before it is whole', async () => {
    const full = await opened('SQLite');
    await season(full);
    const archive = newArchive();
    await exportLog(full, archive);
    const log = await opened(engine);
    const { incoming } = log.photos;
    const store = incoming.store.bind(incoming);
    let stored = 0;
    // Four of them, and then the database is gone.
    const broken = vi.spyOn(incoming, 'store').mockImplementation(async (photos) => {
      await store(photos.slice(0, 4));
      stored += 4;
      throw new LogError('log-away', 'It is away.');
    });
    await expect(takeArchiveIn(log, archive)).rejects.toMatchObject({ code: 'log-away' });
    expect(await log.everything()).toMatchObject({ archers: [], ends: [] });
    broken.mockImplementation((photos) => {
      stored += photos.length;
      return store(photos);
    });
    expect(await takeArchiveIn(log, archive)).toEqual({ ends: 60, photos: 10 });
    expect(stored).toBe(10);
    await expectEqual(full, log);
  });

  it('leaves no photo of an archive that is refused', async () => {
    const full = await opened('SQLite');
    await season(full);
    const archive = newArchive();
    const [last] = (await full.ends()).filter(({ photo }) => photo !== null).reverse();
    const altered = {
      photos: {
        readSound: (place: PhotoPlace) =>
          place.file === last!.photo!.file
            ? Promise.resolve(Buffer.from('no picture'))
            : full.photos.readSound(place),
      },
      readRecords: full.readRecords.bind(full),
    };
    await exportLog(altered, archive);
    const log = await opened(engine);
    await expect(takeArchiveIn(log, archive)).rejects.toMatchObject({ code: 'bad-archive' });
    expect(await photosIn(log.address)).toEqual([]);
    const [first] = (await full.ends()).filter(({ photo }) => photo !== null);
    expect((await log.photos.incoming.stored([first!.photo!])).size).toBe(0);
  });
});
