import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { groupsSchema } from '../../../src/groups/groups.ts';
import { tuningSchema } from '../../../src/tuning/tuning.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { runEndwise } from './run-endwise.ts';

const folder = temporaryFolder();
const END = {
  hand: 'right',
  distanceM: 30,
  marks: [
    { mm: [-31.8, 12.4], kind: 'fletched' },
    { mm: [10, -20], kind: 'fletched' },
    { mm: [-5, 22], kind: 'fletched' },
    { mm: [40, 55.1], kind: 'bare' },
    { mm: [80, 65.1], kind: 'bare' },
  ],
};

describe('endwise', () => {
  beforeAll(async () => {
    writeFileSync(join(folder, 'END.json'), JSON.stringify(END));
    writeFileSync(join(folder, 'empty.jpg'), '');
    mkdirSync(join(folder, 'folder.jpg'));
    await sharp({ create: { width: 300, height: 300, channels: 3, background: 'green' } })
      .jpeg()
      .toFile(join(folder, 'meadow.jpg'));
  });

  it('offset prints groups and tuning', async () => {
    const json = await runEndwise(['offset', 'END.json', '--json'], folder);
    expect([json.status, json.stderr]).toEqual([0, '']);
    const printed = JSON.parse(json.stdout) as { groups: unknown; tuning: unknown };
    const groups = groupsSchema.parse(printed.groups);
    tuningSchema.parse(printed.tuning);
    // The means of the positions above, and their difference over 30 m.
    expect(groups.fletched!.meanMm[0]).toBeCloseTo(-26.8 / 3, 9);
    expect(groups.offset!.mrad![1]).toBeCloseTo((60.1 - 14.4 / 3) / 30, 9);
  });

  it.each([
    [['bogus'], 'unknown command'],
    [['read', 'meadow.jpg', '--shaft', '-3'], 'A shaft is at least 3 mm thick.'],
    [['batch', 'nope.csv', '--out', 'r.jsonl'], 'does not exist'],
    [['offset', 'empty.jpg'], 'is not JSON'],
  ])('%j is wrong usage', async (args, words) => {
    const ran = await runEndwise(args, folder);
    expect([ran.status, ran.stdout]).toEqual([2, '']);
    expect(ran.stderr).toContain(words);
    expect(ran.stderr).not.toMatch(/\bat .*:\d+:\d+/);
  });

  it.each([['empty.jpg', 'empty-file']])(
    'read %s fails with one line on standard error',
    async (photo, code) => {
      const ran = await runEndwise(['read', photo, '--json'], folder);
      expect(ran.status).toBe(1);
      expect(ran.stderr).toMatch(/^endwise: .*\.\n$/);
      expect(JSON.parse(ran.stdout)).toMatchObject({ photo, ok: false, error: { code } });
    },
  );
});
