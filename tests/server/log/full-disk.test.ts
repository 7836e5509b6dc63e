import { existsSync, readdirSync, symlinkSync } from 'node:fs';
import type * as files from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { exportLog } from '../../../server/log/export-log.ts';
import { importLog } from '../../../server/log/import-log.ts';
import { Log } from '../../../server/log/log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

const disk = vi.hoisted(() => ({ isFull: false }));

/** Files under photos/ are opened on a device that is always full, as the disk would be. */
vi.mock('node:fs/promises', async (load) => {
  const real = await load<typeof files>();
  const open: typeof real.open = (path, flags, mode) =>
    disk.isFull && String(path).endsWith('.part')
      ? real.writeFile(path, '').then(() => real.open('/dev/full', 'w'))
      : real.open(path, flags, mode);
  return { ...real, open, default: { ...real, open } };
});

const SENTENCE = 'The disk is full: make room and keep it again; what was kept before is safe.';
const hasFullDevice = existsSync('/dev/full');
const root = temporaryFolder();
const opened: Log[] = [];
let folder: string;
let log: Log;
let count = 0;

beforeEach(async () => {
  disk.isFull = false;
  folder = join(root, `log-${count++}`);
  log = await Log.open(folder);
  opened.push(log);
  await fillSample(log);
});
afterAll(() => Promise.all(opened.map((one) => one.close())));

const photoOf = (background: string) =>
  sharp({ create: { width: 40, height: 30, channels: 3, background } })
    .png()
    .toBuffer();
const photosIn = (data: string) => readdirSync(join(data, 'photos'));

describe.runIf(hasFullDevice)('a full disk', () => {
  it('keeps no end without its photo, loses none, and takes the end once there is room', async () => {
    const first = await log.putEnd(sampleEnd('ilka', 1), await photoOf('red'));
    const before = await log.everything();
    disk.isFull = true;
    await expect(log.putEnd(sampleEnd('ilka', 2), await photoOf('blue'))).rejects.toMatchObject({
      code: 'disk-full',
      message: SENTENCE,
    });
    // Another photo for the end that is kept: the old one stays.
    await expect(log.putEnd(sampleEnd('ilka', 1), await photoOf('green'))).rejects.toMatchObject({
      code: 'disk-full',
    });
    expect(await log.everything()).toEqual(before);
    expect(photosIn(folder)).toEqual([first.photo!.file]);
    disk.isFull = false;
    await log.putEnd(sampleEnd('ilka', 2), await photoOf('blue'));
    expect(photosIn(folder)).toHaveLength(2);
    expect(log.isSound()).toBe(true);
  });

  it('leaves no half archive, and an import into it leaves the log empty', async () => {
    await log.putEnd(sampleEnd('ilka', 1), await photoOf('red'));
    const archive = join(root, 'whole.zip');
    await exportLog(log, archive);

    const torn = join(root, 'torn.zip');
    symlinkSync('/dev/full', `${torn}.part`);
    await expect(exportLog(log, torn)).rejects.toMatchObject({ code: 'disk-full' });
    expect(readdirSync(root).filter((name) => name.startsWith('torn'))).toEqual([]);

    const data = join(root, 'imported');
    const empty = await Log.open(data);
    opened.push(empty);
    disk.isFull = true;
    await expect(importLog(empty, archive)).rejects.toMatchObject({
      code: 'disk-full',
      message: SENTENCE,
    });
    expect([await empty.archers(), await empty.ends(), photosIn(data)]).toEqual([[], [], []]);
    disk.isFull = false;
    expect(await importLog(empty, archive)).toEqual({ ends: 1, photos: 1 });
  });
});
