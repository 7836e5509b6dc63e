import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';

const SENTENCE = 'The disk is full: make room and keep it again; what was kept before is safe.';
const disk = join(temporaryFolder(), 'disk');
mkdirSync(disk);

/** A disk of this size at that place, seen by one process alone. */
const onOwnDisk = (bytes: number, ...command: string[]) => [
  ...['-rm', 'sh', '-c', `mount -t tmpfs -o size=${bytes} tmpfs "$0" && exec "$@"`, disk],
  ...command,
];
const hasOwnDisks = spawnSync('unshare', onOwnDisk(65_536, 'true')).status === 0;

it.runIf(hasOwnDisks)(
  'a full disk loses nothing, is said in a sentence, and takes ends again once there is room',
  { timeout: 240_000 },
  () => {
    const script = new URL('./fill-disk.ts', import.meta.url).pathname;
    const node = [process.execPath, '--import', import.meta.resolve('tsx'), script, disk];
    const said = execFileSync('unshare', onOwnDisk(2_000_000, ...node), { encoding: 'utf8' });
    expect(JSON.parse(said)).toEqual({
      codes: ['disk-full'],
      messages: [SENTENCE],
      lost: 0,
      unknown: 0,
      photosWithoutEnd: 0,
      tornExport: true,
      tornImport: true,
      leftOfImport: [0, 0],
      keptOnceThereIsRoom: true,
      sound: true,
      files: ['data', 'empty', 'whole.zip'],
    });
  },
);
