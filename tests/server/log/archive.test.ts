import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ZipFile } from 'yazl';
import { ARCHIVE_ENTRY } from '../../../src/tuning/record/archive.ts';
import { exportLog } from '../../../server/log/export-log.ts';
import { importLog } from '../../../server/log/import-log.ts';
import { Log } from '../../../server/log/log.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

const root = temporaryFolder();
const archive = join(root, 'all.zip');
let full: Log;
let empty: Log;

beforeAll(async () => {
  full = await Log.open(join(root, 'full'));
  empty = await Log.open(join(root, 'empty'));
  await fillSample(full);
  const photo = await sharp({ create: { width: 40, height: 30, channels: 3, background: 'red' } })
    .png()
    .toBuffer();
  await full.putEnd(sampleEnd('ilka', 1), photo);
  await full.putEnd(sampleEnd('tomas', 1, { notes: 'typed in' }));
  expect(await exportLog(full, archive)).toEqual({ ends: 2, photos: 1, missing: [] });
});
afterAll(() => Promise.all([full.close(), empty.close()]));

function zipOf(entries: Record<string, string | Buffer>): Promise<string> {
  const zip = new ZipFile();
  for (const [name, content] of Object.entries(entries)) zip.addBuffer(Buffer.from(content), name);
  zip.end();
  const path = join(root, `made-${made++}.zip`);
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    zip.outputStream.on('data', (chunk: Buffer) => chunks.push(chunk));
    zip.outputStream.on('error', reject);
    zip.outputStream.on('end', () => {
      writeFileSync(path, Buffer.concat(chunks));
      resolve(path);
    });
  });
}
let made = 0;

it('refuses an export whose records cannot be read back from the disk, and leaves nothing of it', async () => {
  const path = join(root, 'torn.zip');
  const torn = exportLog(
    {
      photos: full.photos,
      readRecords: async (visitor) => {
        await full.readRecords(visitor);
        rmSync(`${path}.sessions.part`);
      },
    },
    path,
  );
  await expect(torn).rejects.toThrow();
  expect(readdirSync(root).filter((name) => name.startsWith('torn'))).toEqual([]);
});

async function refusal(path: string) {
  const error = (await takeArchiveIn(empty, path).then(
    () => null,
    (e: unknown) => e,
  )) as { code: string; message: string } | null;
  expect(await empty.everything()).toEqual({
    archers: [],
    bows: [],
    setUps: [],
    sessions: [],
    ends: [],
  });
  return error;
}

describe('export and import', () => {
  it('bring everything into an empty log without loss, and only into an empty one', async () => {
    const log = await Log.open(join(root, 'imported'));
    expect(await importLog(log, archive)).toEqual({ ends: 2, photos: 1 });
    expect(await log.everything()).toEqual(await full.everything());
    const { photo } = await full.end('ilka-end-1');
    expect(await log.photos.read(photo!.file)).toEqual(await full.photos.read(photo!.file));
    await expect(importLog(log, archive)).rejects.toMatchObject({ code: 'not-empty' });
    expect(await log.ends()).toHaveLength(2);
    await log.close();
  });

  it('can hand out one archer alone', async () => {
    const path = join(root, 'tomas.zip');
    await exportLog(full, path, { archerId: 'tomas' });
    const log = await Log.open(join(root, 'tomas'));
    await takeArchiveIn(log, path);
    const whole = await log.everything();
    expect(whole.archers.map((archer) => archer.id)).toEqual(['tomas']);
    expect(whole.ends.map((end) => end.id)).toEqual(['tomas-end-1']);
    await log.close();
  });

  it('refuse an archive that breaks off at any point, and stay empty', async () => {
    const whole = readFileSync(archive);
    for (const part of [0, 0.2, 0.6, 0.9, 0.999]) {
      const path = join(root, 'torn.zip');
      writeFileSync(path, whole.subarray(0, Math.floor(whole.length * part)));
      expect(await refusal(path)).toMatchObject({ code: 'bad-archive' });
    }
  });

  it('refuse an altered photo, a missing one, strange names and newer versions', async () => {
    const { photo } = await full.end('ilka-end-1');
    const name = `photos/${photo!.file}`;
    const altered = readFileSync(archive);
    // Somewhere within the photo's stored bytes.
    altered[altered.indexOf(name) + name.length + 200]! ^= 0xff;
    const path = join(root, 'altered.zip');
    writeFileSync(path, altered);
    expect((await refusal(path))?.message).toMatch(/altered|damaged/);

    const records = JSON.stringify({
      format: 'endwise-log',
      version: 1,
      exportedAt: new Date().toISOString(),
      ...(await full.everything()),
    });
    expect((await refusal(await zipOf({ [ARCHIVE_ENTRY]: records })))?.message).toContain('lacks');
    const stray = { [ARCHIVE_ENTRY]: records, 'photos/evil.jpg': 'x' };
    expect((await refusal(await zipOf(stray)))?.message).toContain('which no export writes');
    const newer = await zipOf({ [ARCHIVE_ENTRY]: '{"version":99}' });
    expect(await refusal(newer)).toMatchObject({ code: 'newer-archive' });
    expect((await refusal(await zipOf({ [ARCHIVE_ENTRY]: '{' })))?.message).toContain('JSON');
    expect((await refusal(await zipOf({})))?.message).toContain('not made by an export');
    expect((await refusal(join(root, 'nope.zip')))?.message).toContain('does not exist');
  });

  it('refuse records that contradict each other, whole', async () => {
    const { ends, ...rest } = await full.everything();
    const records = {
      format: 'endwise-log',
      version: 1,
      exportedAt: new Date().toISOString(),
      ...rest,
      ends: ends.map((end) => ({ ...end, photo: null, sessionId: 'nobody' })),
    };
    const path = await zipOf({ [ARCHIVE_ENTRY]: JSON.stringify(records) });
    expect(await refusal(path)).toMatchObject({ code: 'unknown-session' });
  });
});
