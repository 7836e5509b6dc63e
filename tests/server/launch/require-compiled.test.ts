import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { folderPrefix } from '../folders-of-runs.ts';

const LOADER = fileURLToPath(
  new URL('../../../server/launch/require-compiled.mjs', import.meta.url),
);
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(folderPrefix());
  writeFileSync(
    join(folder, 'module.cjs'),
    "exports.said = 'größer: ' + require('node:path').basename(__filename);",
  );
  writeFileSync(
    join(folder, 'run.mjs'),
    `import { requireCompiled } from ${JSON.stringify(LOADER)};
     process.stdout.write(requireCompiled(${JSON.stringify(join(folder, 'module.cjs'))}).said);
     process.exit(Number(process.argv[3] ?? 0));`,
  );
});
afterEach(() => rmSync(folder, { recursive: true }));

function run(task: string, status = 0): string {
  const line = [join(folder, 'run.mjs'), task, String(status)];
  const ran = spawnSync(process.execPath, line, { encoding: 'utf8' });
  expect(ran).toMatchObject({ status, stderr: '' });
  return ran.stdout;
}
const kept = () => readdirSync(folder).filter((name) => name.endsWith('.compiled'));

it('keeps what was compiled for each task that ended well, and runs the same with it', () => {
  expect(run('read', 1)).toBe('größer: module.cjs');
  expect(kept()).toEqual([]);
  expect(run('read')).toBe('größer: module.cjs');
  expect(kept()).toHaveLength(1);
  const { mtimeMs } = statSync(join(folder, kept()[0]!));
  expect(run('read')).toBe('größer: module.cjs');
  // It was taken as it is.
  expect(statSync(join(folder, kept()[0]!)).mtimeMs).toBe(mtimeMs);
  run('batch');
  expect(kept()).toHaveLength(2);
});

it('compiles anew what is damaged or was cut off', () => {
  run('read');
  const path = join(folder, kept()[0]!);
  const whole = readFileSync(path);
  const damaged = Buffer.from(whole);
  damaged[damaged.length - 9]! ^= 1;
  for (const broken of [damaged, whole.subarray(0, whole.length >> 1), Buffer.alloc(0)]) {
    writeFileSync(path, broken);
    expect(run('read')).toBe('größer: module.cjs');
    expect(readFileSync(path).length).toBeGreaterThan(broken.length - 1);
    expect(readFileSync(path)).not.toEqual(broken);
  }
});
