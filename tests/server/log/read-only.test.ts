import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { importLog } from '../../../server/log/import-log.ts';
import { Log } from '../../../server/log/log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

const data = join(temporaryFolder(), 'data');
const out = temporaryFolder();
const ENDWISE = fileURLToPath(new URL('../../../server/cli/endwise.mjs', import.meta.url));
mkdirSync(data);

/** Runs with the data folder mounted for reading only: whoever may do everything cannot write there. */
const readOnly = (...command: string[]) =>
  spawnSync(
    'unshare',
    [
      '-rm',
      'sh',
      '-c',
      'mount --bind "$0" "$0" && mount -o remount,bind,ro "$0" && exec "$@"',
      data,
    ].concat(command.length > 0 ? command : ['true']),
    { encoding: 'utf8', cwd: '/', env: { ...process.env, ENDWISE_DATA: data } },
  );

it.runIf(readOnly().status === 0)(
  'a folder that cannot be written to is said in one sentence, and exported all the same',
  { timeout: 120_000 },
  async () => {
    const log = await Log.open(data);
    await fillSample(log);
    await log.putEnd(sampleEnd('ilka', 1));
    await log.close();
    const endwise = (...args: string[]) => readOnly(process.execPath, ENDWISE, ...args);
    for (const args of [
      ['serve', '--port', '0'],
      ['setups', '--bow', 'ilka-bow'],
    ]) {
      const { status, stdout, stderr } = endwise(...args);
      expect([args[0], status, stdout, stderr]).toEqual([
        args[0],
        1,
        '',
        "endwise: The log's folder or file cannot be written to: allow it, or name another folder with ENDWISE_DATA.\n",
      ]);
    }
    const archive = join(out, 'all.zip');
    expect(endwise('export', archive)).toMatchObject({
      status: 0,
      stdout: `1 ends and 0 photos are in ${archive}.\n`,
    });
    const again = await Log.open(join(out, 'again'));
    expect(await importLog(again, archive)).toEqual({ ends: 1, photos: 0 });
    await again.close();
  },
);
