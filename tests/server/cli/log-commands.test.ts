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
});
