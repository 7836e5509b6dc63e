import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { zipSync, type Zippable } from 'fflate';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { GatherError } from '../../../server/batch/gather-error.ts';
import { gatherFolder } from '../../../server/batch/gather-folder.ts';
import { gatherZip } from '../../../server/batch/gather-zip.ts';
import { openEvening } from '../../../server/batch/open-evening.ts';
import { readNames } from '../../../server/batch/read-names.ts';
import { readingRequestSchema } from '../../../src/request/request.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const fresh = () => mkdtempSync(join(folder, 'own-'));
let jpeg: Buffer;
beforeAll(async () => {
  jpeg = await sharp({ create: { width: 8, height: 8, channels: 3, background: 'red' } })
    .jpeg()
    .withExif({ IFD2: { DateTimeOriginal: '2031:05:04 18:03:09' } })
    .toBuffer();
});

function zipOf(entries: Zippable): string {
  const path = join(fresh(), 'evening.zip');
  writeFileSync(path, zipSync(entries));
  return path;
}
async function refusal(entries: Zippable | Buffer): Promise<string> {
  const path = Buffer.isBuffer(entries) ? join(fresh(), 'evening.zip') : zipOf(entries);
  if (Buffer.isBuffer(entries)) writeFileSync(path, entries);
  const into = fresh();
  const error = (await gatherZip(path, into).then(
    () => null,
    (e: unknown) => e,
  )) as Error;
  expect(error).toBeInstanceOf(GatherError);
  expect(error.message).toMatch(/^[^\n]*\.$/);
  return error.message;
}
const LINK = { os: 3, attrs: (0o120777 << 16) >>> 0 };

describe('gatherFolder', () => {
  it('finds photos by content, with their time, and follows no links', async () => {
    const own = fresh();
    mkdirSync(join(own, 'Juna'));
    writeFileSync(join(own, 'Juna', 'no-extension'), jpeg);
    writeFileSync(join(own, 'Juna', 'broken.jpg'), 'words');
    writeFileSync(join(own, 'notes.txt'), 'words');
    writeFileSync(join(own, '.hidden.jpg'), jpeg);
    symlinkSync('/etc', join(own, 'etc'));
    symlinkSync(join(own, 'Juna', 'no-extension'), join(own, 'link.jpg'));
    const { photos, leftOut } = await gatherFolder(own);
    // What is named like a photo gets a result that says what is wrong with it.
    expect(photos).toEqual([
      { name: 'Juna/broken.jpg', path: join(own, 'Juna/broken.jpg') },
      {
        name: 'Juna/no-extension',
        path: join(own, 'Juna/no-extension'),
        takenAt: '2031-05-04T18:03:09',
      },
    ]);
    expect(leftOut).toEqual([
      'Links were not followed: 2.',
      'Files that are no photos were left out: 1.',
    ]);
  });
});

describe('a folder as an evening', () => {
  it('joins the photo of another side to its end, by its name', async () => {
    const own = fresh();
    for (const name of ['3.jpg', '3-other-side.jpg', '3-before.jpg', '4-also.jpg']) {
      writeFileSync(join(own, name), jpeg);
    }
    const { rows } = await openEvening(own, readingRequestSchema.parse({}));
    expect(rows.map(({ photo, before, alsoPath }) => [photo, before, alsoPath])).toEqual([
      ['3.jpg', '3-before.jpg', join(own, '3-other-side.jpg')],
      ['4-also.jpg', null, null],
    ]);
  });

  it('finds the second view that a manifest of an archive names in it, and nothing outside', async () => {
    const manifest = 'photo,also\n1.jpg,2.jpg\n3.jpg,../secret.jpg\n';
    const path = zipOf({
      'manifest.csv': Buffer.from(manifest),
      '1.jpg': jpeg,
      '2.jpg': jpeg,
      '3.jpg': jpeg,
    });
    const { rows, close } = await openEvening(path, readingRequestSchema.parse({}));
    expect(rows.map(({ photo, problem }) => [photo, problem])).toEqual([
      ['1.jpg', null],
      ['3.jpg', 'There is no photo "../secret.jpg" in the archive.'],
    ]);
    expect(readFileSync(rows[0]!.alsoPath!)).toEqual(jpeg);
    await close();
  });
});

describe('gatherZip', () => {
  it('unpacks photos under names of its own and says what it left out', async () => {
    const into = fresh();
    const path = zipOf({
      'Juna/1.jpg': jpeg,
      'Juna/link.jpg': [Buffer.from('/etc/passwd'), LINK],
      'nested.zip': zipSync({ 'a.jpg': jpeg }),
      'notes.txt': Buffer.from('words'),
      '__MACOSX/1.jpg': jpeg,
    });
    const { photos, leftOut } = await gatherZip(path, into);
    expect(photos).toEqual([
      { name: 'Juna/1.jpg', path: join(into, '1'), takenAt: '2031-05-04T18:03:09' },
    ]);
    expect(readFileSync(join(into, '1'))).toEqual(jpeg);
    expect(readdirSync(into)).toEqual(['1']);
    expect(leftOut).toEqual([
      'Links in the archive were not followed: 1.',
      'Archives within the archive were left out, unpack them first: 1.',
      'Files that are no photos were left out: 1.',
    ]);
  });

  it('refuses names that lead outside, and writes nothing there', async () => {
    expect(await refusal({ '../outside.jpg': jpeg })).toContain('outside itself');
    expect(await refusal({ '/tmp/outside.jpg': jpeg })).toContain('outside itself');
    expect(await refusal({ 'a/../../outside.jpg': jpeg })).toContain('outside itself');
  });

  it('refuses what inflates as no photo does, and what lies about its size', async () => {
    const bomb = Buffer.alloc(3 * 1024 * 1024);
    jpeg.copy(bomb);
    expect(await refusal({ 'bomb.jpg': [bomb, { level: 9 }] })).toContain('inflates');
    const liar = Buffer.from(zipSync({ 'bomb.jpg': [bomb, { level: 9 }] }));
    const directory = liar.lastIndexOf('PK\x01\x02', undefined, 'latin1');
    liar.writeUInt32LE(jpeg.length, directory + 24);
    expect(await refusal(liar)).toContain('damaged');
  });

  it('refuses damaged archives', async () => {
    const whole = Buffer.from(zipSync({ '1.jpg': jpeg }));
    expect(await refusal(Buffer.alloc(0))).toContain('empty');
    expect(await refusal(whole.subarray(0, whole.length - 30))).toContain('no zip archive');
    whole.fill(0xff, 40, whole.length - 80);
    expect(await refusal(whole)).toContain('damaged');
  });

  it(
    'takes 10,000 tiny files in its stride and 20,001 for a mistake',
    { timeout: 60_000 },
    async () => {
      const tiny = (n: number) =>
        Object.fromEntries(Array.from({ length: n }, (_, i) => [`${i}.txt`, Buffer.from('x')]));
      const { photos, leftOut } = await gatherZip(
        zipOf({ ...tiny(10_000), '1.jpg': jpeg }),
        fresh(),
      );
      expect([photos.length, leftOut]).toEqual([
        1,
        ['Files that are no photos were left out: 10000.'],
      ]);
      expect(await refusal(tiny(20_001))).toContain('more than 20000 files');
    },
  );
});

describe('openEvening', () => {
  const about = readingRequestSchema.parse({ face: 'wa80', fletched: 3, bare: 2 });

  it('reads a manifest within, and places the other photos by their names', async () => {
    const path = zipOf({
      'manifest.csv': Buffer.from('photo,shaft_mm,archer\na.jpg,5.5,Juna\nmissing.jpg,,\n'),
      'a.jpg': jpeg,
      'Ravi/old riser/b.jpg': jpeg,
    });
    const evening = await openEvening(path, about);
    expect(evening.rows).toMatchObject([
      { photo: 'a.jpg', request: { face: 'auto', shaftMm: 5.5 }, others: { archer: 'Juna' } },
      { photo: 'missing.jpg' },
      {
        photo: 'Ravi/old riser/b.jpg',
        request: about,
        others: { archer: 'Ravi', bow: 'old riser', session: '1', end: '1' },
      },
    ]);
    expect(readFileSync(evening.rows[0]!.photoPath)).toEqual(jpeg);
    await evening.close();
    expect(() => readFileSync(evening.rows[0]!.photoPath)).toThrow();
  });

  it('says so where there is no photo at all', async () => {
    await expect(openEvening(zipOf({ 'a.txt': Buffer.from('x') }), about)).rejects.toThrow(
      'There is no photo in it.',
    );
  });
});

describe('readNames', () => {
  it('takes results.csv back with other names in it', async () => {
    const path = join(fresh(), 'names.csv');
    writeFileSync(path, "\ufeffphoto,archer,score\r\na.jpg,Juna,40\r\n'=b.jpg,'@home,\r\n");
    expect([...(await readNames(path))]).toEqual([
      ['a.jpg', { archer: 'Juna' }],
      ['=b.jpg', { archer: '@home' }],
    ]);
    writeFileSync(path, 'name\nJuna\n');
    await expect(readNames(path)).rejects.toThrow('needs the columns');
  });
});
