import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import sharp from 'sharp';
import { expect, it } from 'vitest';
import { openEvening } from '../../../server/batch/open-evening.ts';
import { ResultsFile } from '../../../server/batch/results-file.ts';
import { readingRequestSchema } from '../../../src/request/request.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const about = readingRequestSchema.parse({});

it('reads a photo again whose worker was killed, and no other', async () => {
  const path = join(folder, 'results.jsonl');
  const line = (photo: string, code?: string) =>
    JSON.stringify({ photo, ok: code === undefined, ...(code ? { error: { code } } : {}) }) + '\n';
  writeFileSync(path, line('a.jpg') + line('b.jpg', 'worker-died') + line('c.jpg', 'no-face'));
  const results = await ResultsFile.open(path);
  expect([...results.done.keys()]).toEqual(['a.jpg', 'c.jpg']);
  await results.append({ photo: 'b.jpg', ok: true });
  await results.close();
  const photos = readFileSync(path, 'utf8').trim().split('\n');
  expect(photos.map((text) => (JSON.parse(text) as { photo: string }).photo)).toEqual([
    'a.jpg',
    'c.jpg',
    'b.jpg',
  ]);
});

it('says which column is misspelt, and hands it through all the same', async () => {
  const path = join(folder, 'manifest.csv');
  writeFileSync(path, 'photo,shaft_mn,Distance,barre,end,club\na.jpg,5,30,2,1,Heron\n');
  const evening = await openEvening(path, about);
  expect(evening.leftOut).toEqual([
    'The column "shaft_mn" is not read: is "shaft_mm" meant?',
    'The column "Distance" is not read: is "distance_m" meant?',
    'The column "barre" is not read: is "bare" meant?',
  ]);
  expect(evening.rows[0]!.others).toMatchObject({ shaft_mn: '5', club: 'Heron' });
});

it("keeps an archive's manifest within the archive, and knows an empty archive", async () => {
  const outside = join(folder, 'outside.jpg');
  const photo = await sharp({ create: { width: 40, height: 30, channels: 3, background: 'red' } })
    .jpeg()
    .toBuffer();
  writeFileSync(outside, photo);
  mkdirSync(join(folder, 'zips'));
  const path = join(folder, 'zips', 'evening.zip');
  const manifest = `photo\nin.jpg\n../../outside.jpg\n${outside}\n`;
  writeFileSync(path, zipSync({ 'in.jpg': photo, 'manifest.csv': strToU8(manifest) }));
  const evening = await openEvening(path, about);
  expect(evening.rows.map(({ problem }) => problem)).toEqual([
    null,
    'There is no photo "../../outside.jpg" in the archive.',
    `There is no photo "${outside.slice(0, 80)}" in the archive.`,
  ]);
  await evening.close();
  const empty = join(folder, 'zips', 'empty.zip');
  writeFileSync(empty, zipSync({}));
  await expect(openEvening(empty, about)).rejects.toThrow('There is no photo in it.');
});
