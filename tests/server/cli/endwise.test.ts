import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { rememberedSizes } from '../../../server/log/remembered-sizes.ts';
import { FACES, type FaceId } from '../../../src/face/faces.ts';
import { groupsSchema } from '../../../src/groups/groups.ts';
import { readingResultSchema } from '../../../src/reading/reading.ts';
import { tuningSchema } from '../../../src/tuning/advice/tuning.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { runEndwise } from './run-endwise.ts';

const folder = temporaryFolder();
const file = (name: string) => join(folder, name);
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
    writeFileSync(file('END.json'), JSON.stringify(END));
    writeFileSync(file('empty.jpg'), '');
    mkdirSync(file('folder.jpg'));
    await sharp({ create: { width: 900, height: 900, channels: 3, background: 'green' } })
      .jpeg()
      .toFile(file('meadow.jpg'));
  });

  it('offset prints groups and tuning', async () => {
    const json = await runEndwise(['offset', file('END.json'), '--json'], folder);
    expect([json.status, json.stderr]).toEqual([0, '']);
    const printed = JSON.parse(json.stdout) as { groups: unknown; tuning: unknown };
    const groups = groupsSchema.parse(printed.groups);
    tuningSchema.parse(printed.tuning);
    // The means of the positions above, and their difference over 30 m.
    expect(groups.fletched!.meanMm[0]).toBeCloseTo(-26.8 / 3, 9);
    expect(groups.offset!.mrad![1]).toBeCloseTo((60.1 - 14.4 / 3) / 30, 9);
    const report = await runEndwise(['offset', file('END.json')], folder);
    expect(report.stdout).toMatch(/^Fletched {2}3 arrows, centre -9, \+5 mm/);
  });

  it.each([
    [['bogus'], 'unknown command'],
    [['read'], "missing required argument 'photo'"],
    [['read', file('meadow.jpg'), '--shaft', '-3'], '--shaft: A shaft is at least 3 mm thick.'],
    [['read', file('meadow.jpg'), '--bare', 'two'], '--bare: A number is needed here.'],
    [['read', file('meadow.jpg'), '--face', 'wa81'], '--face: One of wa122, '],
    [['batch', file('nope.csv'), '--out', file('r.jsonl')], 'does not exist'],
    [['batch', file('END.json')], "required option '--out <results>'"],
    [['batch', file('END.json'), '--out', file('r.jsonl'), '--workers', '0'], '--workers'],
    [['offset', file('nope.json')], 'does not exist'],
    [['offset', file('empty.jpg')], 'is not JSON'],
  ])('%j is wrong usage', async (args, words) => {
    const ran = await runEndwise(args, folder);
    expect([ran.status, ran.stdout]).toEqual([2, '']);
    expect(ran.stderr).toContain(words);
    expect(ran.stderr).not.toMatch(/\bat .*:\d+:\d+/);
  });

  it.each([
    ['empty.jpg', 'empty-file'],
    ['folder.jpg', 'not-a-file'],
    ['nope.jpg', 'no-file'],
    ['END.json', 'not-a-photo'],
    ['meadow.jpg', 'no-face'],
    ['meadow.jpg', 'no-file', '--also', 'nope.jpg'],
  ])('read %s fails with one line on standard error', async (name, code, ...more) => {
    const photo = file(name);
    const ran = await runEndwise(['read', photo, '--json', ...more], folder);
    expect(ran.status).toBe(1);
    expect(ran.stderr).toMatch(/^endwise: [^\n]*\.\n$/);
    expect(JSON.parse(ran.stdout)).toMatchObject({ photo, ok: false, error: { code } });
  });

  it('read prints what the contract says, and remembers the printed size', async () => {
    const photo = fileURLToPath(new URL('../../../test-images/fresh-02.jpg', import.meta.url));
    const { face, shaft_mm } = JSON.parse(readFileSync(photo.replace('.jpg', '.json'), 'utf8')) as {
      face: FaceId;
      shaft_mm: number;
    };
    const ran = await runEndwise(
      ['read', photo, '--face', face, '--shaft', String(shaft_mm), '--json'],
      folder,
    );
    expect([ran.status, ran.stderr]).toEqual([0, '']);
    const result = readingResultSchema.parse(JSON.parse(ran.stdout));
    expect(result).toMatchObject({ photo, ok: true, reading: { face } });
    expect(await rememberedSizes(file('data'))).toEqual({ [FACES[face].family]: face });
  });

  it('doctor checks each part and says what is missing', async () => {
    const ran = await runEndwise(['doctor'], folder);
    const parts = ran.stdout.trim().split('\n');
    expect(parts.map((line) => line.slice(9).split(':', 1)[0])).toEqual([
      'Node',
      'photo decoder',
      'HEIC decoder',
      'OpenCV',
      'mark network',
      'built page',
      'data folder',
      'log',
      'photos without an end',
    ]);
    // The page may not be built yet; everything else is there once the tests run.
    const missing = parts.filter((line) => line.startsWith('MISSING'));
    expect(missing.filter((line) => !line.includes('built page'))).toEqual([]);
    expect(ran.status).toBe(missing.length === 0 ? 0 : 1);
  });
});
