import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import exifr from 'exifr';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ARCHIVE_ENTRY } from '../../../src/tuning/record/archive.ts';
import { importLog } from '../../../server/log/import-log.ts';
import { Log } from '../../../server/log/log.ts';
import { sha256 } from '../../../server/log/photo-store.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

const root = temporaryFolder();
const FILE = '00000000-0000-0000-0000-000000000001.jpg';
let empty: Log;
let records: Awaited<ReturnType<Log['everything']>>;

beforeAll(async () => {
  const full = await Log.open(join(root, 'full'));
  await fillSample(full);
  await full.putEnd(sampleEnd('ilka', 1));
  await full.putEnd(sampleEnd('ilka', 2));
  records = await full.everything();
  await full.close();
  empty = await Log.open(join(root, 'empty'));
});
afterAll(() => empty.close());

let made = 0;
function archiveOf(content: unknown, files: Record<string, Uint8Array> = {}): string {
  const about = { format: 'endwise-log', version: 1, exportedAt: new Date().toISOString() };
  const isRecord = typeof content === 'object' && content !== null;
  const text = JSON.stringify(isRecord ? { ...about, ...content } : content);
  const path = join(root, `made-${made++}.zip`);
  writeFileSync(path, zipSync({ [ARCHIVE_ENTRY]: strToU8(text), ...files }, { level: 6 }));
  return path;
}

/** The second end has this photo. */
const withPhoto = (bytes: Uint8Array) => ({
  ...records,
  ends: records.ends.map((end, i) =>
    i === 1 ? { ...end, photo: { file: FILE, sha256: sha256(bytes) } } : end,
  ),
});

async function refusal(path: string): Promise<string> {
  const error = await takeArchiveIn(empty, path).then(
    () => null,
    (one: unknown) => one as { name: string; message: string },
  );
  expect(await empty.archers()).toEqual([]);
  expect(error?.name).toBe('LogError');
  return error!.message;
}

it('refuses records that make no sense in a sentence, and keeps nothing of them', async () => {
  const { ends, archers } = records;
  for (const [path, words] of [
    [archiveOf(null), 'The archive cannot be imported: '],
    [archiveOf(42), 'The archive cannot be imported: '],
    [
      archiveOf({ ...records, ends: [ends[0], ends[0]] }),
      'it holds two ends of the id "ilka-end-1".',
    ],
    [
      archiveOf({ ...records, archers: [...archers, archers[0]] }),
      'it holds two archers of the id',
    ],
    [
      archiveOf({
        ...records,
        ends: ends.map((end) => ({ ...end, photo: { file: FILE, sha256: '0'.repeat(64) } })),
      }),
      'two of its ends have the same photo',
    ],
  ] as const) {
    expect(await refusal(path)).toContain(words);
  }
});

it('bounds what a small archive unpacks to, and answers meanwhile', async () => {
  const path = join(root, 'bomb.zip');
  const bomb = Buffer.alloc(30_000_000, '{},');
  bomb.write('[');
  writeFileSync(path, zipSync({ [ARCHIVE_ENTRY]: bomb }, { level: 6 }));
  let turns = 0;
  const turning = setInterval(() => turns++, 20);
  const start = performance.now();
  await expect(importLog(empty, path)).rejects.toMatchObject({ code: 'bad-archive' });
  clearInterval(turning);
  // The event loop went on all the time, whatever it took.
  expect(turns).toBeGreaterThan((performance.now() - start) / 20 / 4);
});

it('makes no more of what is no record than a record may have', async () => {
  // Not packed at all, so that its ratio says nothing.
  const path = join(root, 'values.zip');
  const text = Buffer.alloc(16_000_000, '[],');
  text.write('{"others": [');
  writeFileSync(path, zipSync({ [ARCHIVE_ENTRY]: text }, { level: 0 }));
  expect(await refusal(path)).toContain('more than any log does');
});

it('meets photos in an archive as those of strangers', async () => {
  const picture = () =>
    sharp({ create: { width: 40, height: 30, channels: 3, background: 'red' } });
  const tagged = await picture()
    .jpeg()
    .withExif({ IFD0: { Make: 'Camera' }, IFD3: { GPSLatitudeRef: 'N' } })
    .toBuffer();
  const svg = strToU8('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"></svg>');
  expect(await refusal(archiveOf(withPhoto(svg), { [`photos/${FILE}`]: svg }))).toContain(
    'is none. The file is an SVG',
  );
  const log = await Log.open(join(root, 'taken'));
  const path = archiveOf(withPhoto(tagged), { [`photos/${FILE}`]: tagged });
  expect(await takeArchiveIn(log, path)).toEqual({ ends: 2, photos: 1 });
  const { photo } = await log.end('ilka-end-2');
  const stored = await log.photos.readSound(photo!);
  expect(await exifr.parse(tagged, true)).toMatchObject({ Make: 'Camera' });
  expect(await exifr.parse(stored, true)).toBeUndefined();
  await log.close();
});

it('notices a file whose sum is not what the archive says', async () => {
  const path = archiveOf({ ...records });
  const bytes = readFileSync(path);
  // The sum in the central directory, 16 bytes into its entry.
  const entry = bytes.indexOf('PK\x01\x02', 0, 'latin1');
  bytes[entry + 16]! ^= 0xff;
  writeFileSync(path, bytes);
  expect(await refusal(path)).toContain('is damaged');
});

it("takes in what an earlier endwise let name another archer's set-up", async () => {
  const sessions = records.sessions.map((one) =>
    one.archerId === 'ilka' ? { ...one, setUpId: 'tomas-first' } : one,
  );
  const log = await Log.open(join(root, 'healed'));
  await takeArchiveIn(log, archiveOf({ ...records, sessions }));
  const [session] = await log.sessions('ilka');
  const setUp = (await log.setUps('ilka-bow')).find(({ id }) => id === session!.setUpId);
  expect(setUp).toMatchObject({ name: 'Not written down', settings: {} });
  expect(await log.ends()).toHaveLength(2);
  await log.close();
});

it('reads records in whatever order and spacing, and tells what is lacking or breaks off', async () => {
  const about = { format: 'endwise-log', version: 2, exportedAt: new Date().toISOString() };
  const { archers, bows, setUps, sessions, ends } = records;
  const of = (value: object, { cut = 0, after = '' } = {}) => {
    const text = JSON.stringify(value, null, 2);
    const path = join(root, `made-${made++}.zip`);
    const content = text.slice(0, text.length - cut) + after;
    writeFileSync(path, zipSync({ [ARCHIVE_ENTRY]: strToU8(content) }));
    return path;
  };
  const whole = { ends, sessions, setUps, bows, archers, missing: ['something'], ...about };
  expect(await refusal(of({ ...whole, sessions: undefined }))).toContain('sessions');
  expect(await refusal(of({ ...whole, ends: {} }))).toContain('ends');
  expect(await refusal(of(whole, { cut: 3 }))).toContain('JSON');
  expect(await refusal(of(whole, { after: '{}' }))).toContain('JSON');
  const [first, second] = ends;
  const strange = [first, { ...second, shotAt: 'yesterday' }];
  expect(await refusal(of({ ...whole, ends: strange }))).toContain('ends.1.shotAt: ');
  const log = await Log.open(join(root, 'reordered'));
  await takeArchiveIn(log, of(whole, { after: '\n' }));
  expect(await log.everything()).toEqual(records);
  await log.close();
});
