import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { judgeRows } from '../../../server/batch/judge-rows.ts';
import { readManifest, type ManifestRow } from '../../../server/batch/manifest.ts';
import { Log } from '../../../server/log/log.ts';
import { sha256 } from '../../../server/log/photo-store.ts';
import type { Outcome } from '../../../server/reading/read-job.ts';
import { plainReading } from '../../reading/plain-reading.ts';
import { fillSample, sampleEnd, sampleSetUp } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const read: Outcome = { ok: true, elapsedMs: 1, reading: plainReading() };
let log: Log;

beforeAll(async () => {
  log = await Log.open(join(folder, 'log'));
  await fillSample(log);
  for (let i = 0; i < 6; i++) await log.putEnd(sampleEnd('ilka', i));
  await log.putEnd({ ...sampleEnd('tomas', 1), arrows: [] });
});
afterAll(() => log.close());

async function rowOf(cells: Record<string, string>): Promise<ManifestRow> {
  const path = join(folder, 'manifest.csv');
  const columns = Object.keys(cells).join(',');
  writeFileSync(
    path,
    `photo,distance_m,${columns}\nend.jpg,30,${Object.values(cells).join(',')}\n`,
  );
  return (await readManifest(path))[0]!;
}

const dfOf = (judged: Outcome) =>
  judged.ok ? judged.reading.groups!.offset!.posterior!.df : Number.NaN;

describe('judgeRows', () => {
  it('judges by the archer and bow of a row, by id or name, and by its date', async () => {
    const judge = await judgeRows(log);
    for (const cells of [
      { archer: 'ilka' },
      { archer: ' ilka BRANDT', bow: 'Outdoor bow', date: '2031-05-20' },
      { bow: 'ilka-bow', set_up: 'First' },
    ]) {
      const judged = await judge(read, await rowOf(cells));
      const used = { archer: 'ilka', bow: 'ilka-bow', setUp: 'ilka-first', ends: 6 };
      expect(judged).toMatchObject({ ok: true, log: used });
      // The record's degrees of freedom come on top of this end's.
      expect(dfOf(judged)).toBeGreaterThan(
        dfOf(await judge(read, await rowOf({ archer: 'tomas' }))),
      );
    }
  });

  it('leaves a row as it was read where the log knows nobody, and takes no bow for another', async () => {
    const judge = await judgeRows(log);
    expect(await judge(read, await rowOf({ archer: 'Guest' }))).toBe(read);
    expect(await judge(read, await rowOf({ lane: '7' }))).toBe(read);
    // Two archers have a bow of that name.
    expect(await judge(read, await rowOf({ bow: 'Outdoor bow' }))).toBe(read);
    const failed: Outcome = { ok: false, elapsedMs: 1, error: { code: 'no-face', message: 'No.' } };
    expect(await judge(failed, await rowOf({ archer: 'ilka' }))).toBe(failed);
    const lent = await judge(read, await rowOf({ archer: 'ilka', bow: 'Lent bow' }));
    expect(lent).toMatchObject({ log: { archer: 'ilka', bow: null, setUp: null, ends: 6 } });
  });

  it('does not count an end twice that is kept already', async () => {
    writeFileSync(join(folder, 'end.jpg'), 'the photo');
    const row = await rowOf({ archer: 'ilka' });
    const view = await log.ends();
    const kept = view.map((end, i) => (i === 0 ? { ...end, sourceSha256: sha256(Buffer.from('the photo')) } : end)); // prettier-ignore
    const withPhoto = {
      archers: () => log.archers(),
      bows: () => log.bows(),
      setUps: () => log.setUps(),
      sessions: () => log.sessions(),
      ends: () => Promise.resolve(kept),
    };
    expect(await (await judgeRows(withPhoto))(read, row)).toMatchObject({ log: { ends: 5 } });
  });

  it('takes a set-up that was written down since the last end', async () => {
    await log.putSetUp({ ...sampleSetUp('tomas', 'tomas-new'), date: '2031-05-10T10:00:00+02:00' });
    const judge = await judgeRows(log);
    const later = await judge(read, await rowOf({ archer: 'tomas', date: '2031-05-11' }));
    expect(later).toMatchObject({ log: { setUp: 'tomas-new' } });
  });
});
