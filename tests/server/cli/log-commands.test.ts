import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { fillSample, sampleEnd, sampleSetUp } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { runEndwise } from './run-endwise.ts';

const folder = temporaryFolder();

beforeAll(async () => {
  const log = await Log.open(join(folder, 'data'));
  await fillSample(log);
  await log.putSetUp({
    ...sampleSetUp('ilka', 'ilka-second'),
    name: 'Second',
    date: '2031-05-02T10:00:00+02:00',
    settings: { plunger: { type: 'dial', line: 2, mark: 3 } },
  });
  for (let i = 0; i < 4; i++) {
    await log.putEnd(sampleEnd('ilka', i, { setUpId: i % 2 ? 'ilka-second' : 'ilka-first' }));
  }
  await log.close();
});

describe('endwise on a log', () => {
  it('tells set-ups, trends and comparison, and asks which bow where there are two', async () => {
    const unnamed = await runEndwise(['setups'], folder);
    expect([unnamed.status, unnamed.stderr]).toEqual([
      2,
      'endwise: Name one bow with --bow: ilka-bow (Outdoor bow), tomas-bow (Outdoor bow).\n',
    ]);
    const setUps = await runEndwise(['setups', '--bow', 'ilka-bow'], folder);
    expect(setUps.stdout).toMatch(/2031-05-01 {2}First .*\n2031-05-02 {2}Second .*\n +Plunger: /);
    const trend = await runEndwise(['trend', '--bow', 'ilka-bow'], folder);
    expect([trend.status, trend.stderr]).toEqual([0, '']);
    // Eight fletched tens and four misses: 80 points with 12 arrows.
    expect(trend.stdout).toMatch(/2031-05-04 +30 m +12 +6\.67/);
    const compared = await runEndwise(['compare', 'First', 'Second', '--bow', 'ilka-bow'], folder);
    expect(compared.stdout).toContain('First:  First, 6 arrows');
  });

  it('writes pictures, tables and a sheet to print, by the ending of the file', async () => {
    const bow = ['--bow', 'ilka-bow'];
    const file = (name: string) => join(folder, name);
    for (const [args, name, starts] of [
      [['trend'], 'time.svg', '<svg '],
      [['trend', '--of', 'distance'], 'distance.PNG', '\x89PNG'],
      [['trend', '--of', 'walk-back'], 'impact.csv', '\ufeffdistance_m,arrows,'],
      [['compare', 'First', 'Second'], 'compare.svg', '<svg '],
      [['compare', 'First', 'Second'], 'compare.csv', '\ufeffby,first,'],
      [['setups'], 'book.png', '\x89PNG'],
      [['setups'], 'book.csv', '\ufeffset_up,name,date,'],
      [['setups', '--restore', 'First'], 'sheet.html', '<!doctype html>'],
    ] as const) {
      const ran = await runEndwise([...args, ...bow, '--out', file(name)], folder);
      expect([name, ran]).toEqual([name, { status: 0, stdout: '', stderr: '' }]);
      const binary = /png$/i.test(name);
      expect(readFileSync(file(name), binary ? 'latin1' : 'utf8').startsWith(starts)).toBe(true);
    }
    const [header, ...rows] = readFileSync(file('book.csv'), 'utf8').trim().split('\r\n');
    expect(header).toContain(',Plunger,');
    // Two ends of each set-up, three scored arrows an end with the miss; the dial's reading in words.
    expect(rows[0]).toMatch(/^ilka-first,First,2031-05-01T10:00:00\+02:00,0\.5,-1,2,6,2,/);
    expect(rows[1]).toContain('2 lines, mark 3');
    const sessions = await runEndwise(['trend', ...bow, '--out', file('time.csv')], folder);
    expect(sessions.status).toBe(0);
    expect(readFileSync(file('time.csv'), 'utf8')).toContain('30,12,4,6.6667,');

    for (const [args, words] of [
      [['trend', '--out', file('x.pdf')], "--out: the file's name ends in .svg or .png or .csv"],
      [['setups', '--restore', 'First', '--out', file('x.csv')], 'ends in .html'],
      [['trend', '--of', 'weather', '--out', file('x.svg')], 'Allowed choices are time'],
      [['trend', '--out', join(folder, 'book.csv', 'x.svg')], 'cannot be written'],
    ] as const) {
      const ran = await runEndwise([...args, ...bow], folder);
      expect([ran.status, ran.stderr]).toEqual([2, expect.stringContaining(words)]);
    }
  });

  it('writes sheets and pictures in the language and the units that are asked for', async () => {
    const bow = ['--bow', 'ilka-bow'];
    const file = (name: string) => join(folder, name);
    const written = async (args: readonly string[], name: string) => {
      const ran = await runEndwise([...args, ...bow, '--out', file(name)], folder);
      expect([name, ran]).toEqual([name, { status: 0, stdout: '', stderr: '' }]);
      return readFileSync(file(name), 'utf8');
    };
    const sheet = await written(['setups', '--restore', 'First', '--language', 'de'], 'de.html');
    for (const text of ['<html lang="de">', 'Zurück zu', 'Rechtshand', 'aufgeschrieben am']) {
      expect(sheet).toContain(text);
    }
    const plot = await written(
      ['trend', '--of', 'distance', '--language', 'fr', '--units', 'in,yd'],
      'fr.svg',
    );
    for (const text of ['Dispersion des flèches empennées, in', '32,8\u00a0yd']) {
      expect(plot).toContain(text);
    }
    const wrong = await runEndwise(['trend', ...bow, '--units', 'furlong'], folder);
    expect([wrong.status, wrong.stderr]).toEqual([2, expect.stringContaining('Name units of mm,')]);
  });

  it('read names who shot, and says so where the log has nobody of that name', async () => {
    const photo = join(folder, 'no.jpg');
    for (const [args, words] of [
      [
        ['--archer', 'Nobody'],
        'There is no archer "Nobody" in the log: there is ilka (Ilka Brandt)',
      ],
      [['--bow', 'Outdoor bow'], 'There are 2 of the name "Outdoor bow"'],
      [['--archer', 'ilka', '--set-up', 'Third'], 'There is no set-up "Third"'],
      [['--set-up', 'First'], 'name the bow too'],
    ] as const) {
      const ran = await runEndwise(['read', photo, ...args], folder);
      expect([ran.status, ran.stderr]).toEqual([2, expect.stringContaining(words)]);
    }
    const ran = await runEndwise(['read', photo, '--archer', 'ilka'], folder);
    expect([ran.status, ran.stderr]).toEqual([1, expect.stringContaining('does not exist')]);
  });

  it('exports whole or as a table', async () => {
    const whole = await runEndwise(['export', join(folder, 'all.zip')], folder);
    expect(whole.stdout).toMatch(/^4 ends and 0 photos are in .*all.zip.\n$/);
    expect(existsSync(join(folder, 'all.zip'))).toBe(true);
    await runEndwise(['export', join(folder, 'arrows.csv'), '--csv', 'arrows'], folder);
    expect(readFileSync(join(folder, 'arrows.csv'), 'utf8').split('\r\n')).toHaveLength(14);
    const again = await runEndwise(['import', join(folder, 'all.zip')], folder);
    expect(again.status).toBe(1);
    expect(again.stderr).toContain('This log is not empty');
  });

  it('pairs for archers, coaches and keepers, and says who is who and who changed what', async () => {
    const lines = async (...args: string[]) => {
      const { status, stdout, stderr } = await runEndwise(args, folder);
      expect([args, status, stderr]).toEqual([args, 0, '']);
      return stdout.trim().split('\n');
    };
    await lines('coaches', 'Marta Quell', '--takes', 'Ilka Brandt');
    expect(await lines('archers')).toEqual([
      'ilka  Ilka Brandt  coached by Marta Quell',
      'tomas  Tomás Ferro',
    ]);
    for (const whom of [['--coach', 'marta quell'], ['--archer', 'tomas'], []]) {
      expect(await lines('pair', ...whom)).toEqual([expect.stringMatching(/^\w{4}-\w{4}$/)]);
    }
    expect((await lines('trail', '--most', '3')).map((line) => line.slice(18))).toEqual([
      'keeper "command line"  kept pairing-code',
      'keeper "command line"  kept pairing-code of tomas',
      'keeper "command line"  kept pairing-code',
    ]);
    const kept = await lines('trail', '--archer', 'ilka', '--json');
    expect(kept.map((line) => JSON.parse(line) as object)).toContainEqual(
      expect.objectContaining({ done: 'kept', kind: 'end', id: 'ilka-end-1', archerId: 'ilka' }),
    );
    for (const [args, words] of [
      [['pair', '--coach', 'Otto'], 'There is no coach "Otto" in the log: there is'],
      [['pair', '--coach', 'Marta Quell', '--archer', 'ilka'], 'Name an archer or a coach'],
      [['coaches', '--takes', 'ilka'], 'Say which coach'],
      [
        ['archers', '--delete', 'tomas'],
        'cannot be undone. "endwise export copy.zip --archer tomas"',
      ],
      [['trail', '--since', 'May'], 'A day like 2031-05-04.'],
    ] as const) {
      const ran = await runEndwise(args, folder);
      expect([ran.status, ran.stderr]).toEqual([2, expect.stringContaining(words)]);
    }
    expect(await lines('archers', '--delete', 'tomas', '--yes')).toEqual([
      'The archer is deleted, with 0 ends and 0 photos.',
    ]);
    expect((await lines('trail')).join('\n')).not.toContain('tomas');
    await lines('coaches', 'Marta Quell', '--delete');
    expect(await lines('coaches')).toEqual(['']);
  });
});
