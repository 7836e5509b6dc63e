import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ManifestError, readManifest } from '../../../server/batch/manifest.ts';
import { NotResultsError, ResultsFile } from '../../../server/batch/results-file.ts';
import { runBatch } from '../../../server/batch/run-batch.ts';
import type { Outcome } from '../../../server/reading/read-job.ts';
import type { ReadingJob } from '../../../server/reading/reading-job.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
let files = 0;
function file(content: string | Buffer): string {
  const path = join(folder, `file-${files++}`);
  writeFileSync(path, content);
  return path;
}
const linesIn = (path: string) =>
  readFileSync(path, 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);

describe('readManifest', () => {
  it('reads numbers of arrows and the rule of scoring, and says where they make no sense', async () => {
    const path = file(
      'photo,arrow_numbers,scoring\na.jpg,2=7 3=011b,five-zones\nb.jpg,2,\nc.jpg,"1=7,2=x1z",\nd.jpg,,six\n',
    );
    const [a, b, c, d] = await readManifest(path);
    expect(a!.request).toMatchObject({
      scoring: 'five-zones',
      arrowNumbers: [
        { mark: 2, arrowNumber: '7' },
        { mark: 3, arrowNumber: '11B' },
      ],
    });
    expect([b, c].map((row) => row!.problem)).toEqual([
      expect.stringContaining('Column arrow_numbers says "2"'),
      expect.stringContaining('The number of an arrow is like 7, 12 or 3B.'),
    ]);
    expect(d!.problem).toContain('Column scoring says "six": One of as-printed, inner-ten, five-zones.'); // prettier-ignore
  });

  it('reads what a row says, relative to the manifest, and keeps other columns', async () => {
    const path = file(
      '\ufeffPhoto,before,also,face,shaft_mm,fletched,bare,hand,distance_m,archer,Lane\n' +
        '"evening, 1.jpg",b.jpg,other side.jpg,wa80,5.5,3,2,left,30,Ilka Brandt,7\n' +
        'c.jpg\n',
    );
    const [first, second] = await readManifest(path);
    expect(first).toEqual({
      photo: 'evening, 1.jpg',
      photoPath: join(folder, 'evening, 1.jpg'),
      before: 'b.jpg',
      beforePath: join(folder, 'b.jpg'),
      also: 'other side.jpg',
      alsoPath: join(folder, 'other side.jpg'),
      earlier: null,
      earlierPath: null,
      request: {
        face: 'wa80',
        shaftMm: 5.5,
        fletched: 3,
        bare: 2,
        hand: 'left',
        distanceM: 30,
        scoring: 'as-printed',
        preferredMrad: [0, 0],
      },
      problem: null,
      others: { archer: 'Ilka Brandt', Lane: '7' },
    });
    expect(second!.request).toMatchObject({ face: 'auto' });
    expect(second!.request?.hand).toBeUndefined();
  });

  it('reads what a spreadsheet with decimal commas writes', async () => {
    const [row] = await readManifest(file('photo;shaft_mm\r\na.jpg;5,5\r\n'));
    expect(row!.request!.shaftMm).toBe(5.5);
  });

  it('keeps a bad row as a row that says what is wrong', async () => {
    const rows = await readManifest(
      file(
        'photo,shaft_mm,face\na.jpg,-3,\nb.jpg,thick,\nc.jpg,5,wa999\n,5,\nd.jpg,5,,9\ne.jpg,5,\n',
      ),
    );
    expect(rows.map((row) => row.request === null)).toEqual([true, true, true, true, true, false]);
    expect(rows[0]!.problem).toBe('Column shaft_mm says "-3": A shaft is at least 3 mm thick.');
    expect(rows[2]!.problem).toContain('Column face says "wa999"');
  });

  it('cannot be led to pollute prototypes', async () => {
    const [row] = await readManifest(file('photo,__proto__,constructor\na.jpg,x,y\n'));
    expect(Object.keys(row!.others)).toEqual(['__proto__', 'constructor']);
    expect(({} as Record<string, unknown>)['x']).toBeUndefined();
  });

  it.each([
    ['does not exist', () => join(folder, 'nope.csv')],
    ['is a folder', () => folder],
    ['is empty', () => file('')],
    ['no column "photo"', () => file('picture\na.jpg\n')],
    ['two columns "photo"', () => file('photo,Photo\na,b\n')],
    ['not a CSV file', () => file('photo\n"never closed\n')],
    [
      'not a CSV file',
      () => file(Buffer.concat([Buffer.from('photo\n'), Buffer.alloc(200_000, 65)])),
    ],
    ['more than 100000 rows', () => file('photo\n' + 'a.jpg\n'.repeat(100_001))],
  ])('refuses a manifest that %s', async (words, path) => {
    await expect(readManifest(path())).rejects.toThrow(ManifestError);
    await expect(readManifest(path())).rejects.toThrow(words);
  });
});

describe('ResultsFile', () => {
  it('cuts a torn last line, keeps whole ones and goes on behind them', async () => {
    const whole = '{"photo":"ä.jpg","ok":true}\n{"photo":"b.jpg","ok":false}\n';
    // Torn within a letter of two bytes, as a power cut may.
    for (const torn of [
      '',
      '{"photo":"c',
      '{"photo":"c.jpg","ok":true}',
      Buffer.from([0x7b, 0xc3]),
    ]) {
      const path = file(whole);
      appendFileSync(path, torn);
      const results = await ResultsFile.open(path);
      expect([...results.done]).toEqual([
        ['ä.jpg', 1],
        ['b.jpg', 1],
      ]);
      await results.append({ photo: 'c.jpg', ok: false });
      await results.close();
      expect(readFileSync(path, 'utf8')).toBe(whole + '{"photo":"c.jpg","ok":false}\n');
    }
  });

  it('leaves a file alone that holds something else', async () => {
    const path = file('my notes\nare here\n');
    await expect(ResultsFile.open(path)).rejects.toThrow(NotResultsError);
    expect(readFileSync(path, 'utf8')).toBe('my notes\nare here\n');
  });
});

describe('runBatch', () => {
  /** Stands for the pool: says that there is no face, so that only the batch is under test. */
  const asked: string[] = [];
  const noFace = (job: ReadingJob): Promise<Outcome> => {
    asked.push('path' in job.photo ? job.photo.path : '');
    return Promise.resolve({ ok: false, elapsedMs: 1, error: { code: 'no-face', message: 'No.' } });
  };
  const run = async (manifest: string, out: string, read = noFace) => {
    const results = await ResultsFile.open(out);
    const rows = await readManifest(manifest);
    const counts = await runBatch(rows, results, read, { workers: 2, sizes: {} });
    await results.close();
    return counts;
  };

  it('gives every row one line, also bad ones, with the other columns beside it', async () => {
    const manifest = file('photo,shaft_mm,lane,ok\na.jpg,5,1,yes\nb.jpg,-1,2,no\n,,3,\n');
    const out = join(folder, 'all.jsonl');
    expect(await run(manifest, out)).toEqual({ skipped: 0, read: 0, failed: 3, missing: 0 });
    const byLane = linesIn(out).sort((a, b) => Number(a['lane']) - Number(b['lane']));
    expect(byLane).toMatchObject([
      { photo: 'a.jpg', ok: false, error: { code: 'no-face' }, lane: '1', columns: { ok: 'yes' } },
      { photo: 'b.jpg', ok: false, error: { code: 'bad-row' }, lane: '2' },
      { photo: '', ok: false, error: { code: 'bad-row' }, lane: '3' },
    ]);
  });

  it('continues: nothing twice, nothing lost, also where one photo is named twice', async () => {
    const manifest = file('photo\na.jpg\nb.jpg\na.jpg\nc.jpg\n');
    const out = file('{"photo":"a.jpg","ok":true}\n{"photo":"b.jpg","ok":true}\n{"pho');
    asked.length = 0;
    const counts = await run(manifest, out);
    expect(counts).toMatchObject({ skipped: 2, failed: 2 });
    expect(asked.map((path) => path.slice(-5)).sort()).toEqual(['a.jpg', 'c.jpg']);
    expect(
      linesIn(out)
        .map((line) => line['photo'])
        .sort(),
    ).toEqual(['a.jpg', 'a.jpg', 'b.jpg', 'c.jpg']);
    expect(await run(manifest, out)).toMatchObject({ skipped: 4, failed: 0 });
  });

  it('does not stop when a reader throws', async () => {
    const out = join(folder, 'thrown.jsonl');
    const counts = await run(file('photo\na.jpg\nb.jpg\n'), out, () => Promise.reject(new Error()));
    expect(counts.failed).toBe(2);
    expect(linesIn(out).map((line) => line['error'])).toMatchObject([
      { code: 'internal' },
      { code: 'internal' },
    ]);
  });
});
