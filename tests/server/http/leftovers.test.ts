import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';
import { startServer } from './start-server.ts';

const folder = temporaryFolder();

it(
  'a start removes what killed processes left, and nothing else',
  { timeout: 120_000 },
  async () => {
    const TMPDIR = join(folder, 'tmp');
    const machine = hostname().replace(/[^A-Za-z0-9]/g, '');
    const gone = spawnSync(process.execPath, ['-e', '']).pid;
    const removed = [
      `endwise-uploads-${machine}-${gone}-AbC123`,
      `endwise-evening-${machine}-${gone}-0aZ9xY`,
    ];
    const stay = [
      // Of a process that lives, of another machine, and of somebody's own naming.
      `endwise-uploads-${machine}-${process.pid}-AbC123`,
      `endwise-evening-${machine}other-${gone}-AbC123`,
      'endwise-uploads-of-mine',
    ];
    for (const name of [...removed, ...stay]) {
      mkdirSync(join(TMPDIR, name, 'inside'), { recursive: true });
      writeFileSync(join(TMPDIR, name, 'inside', '0'), 'a photo');
    }
    writeFileSync(join(TMPDIR, `endwise-uploads-${machine}-${gone}-file12`), 'no folder');
    const server = await startServer(join(folder, 'data'), { TMPDIR });
    const left = readdirSync(TMPDIR);
    expect(left).toEqual(expect.arrayContaining(stay));
    expect(left.filter((name) => removed.includes(name))).toEqual([]);
    expect(left).toContain(`endwise-uploads-${machine}-${gone}-file12`);
    expect(await server.end()).toBe(0);
  },
);
