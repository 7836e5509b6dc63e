import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const file = (path: string) => fileURLToPath(new URL(`../../../${path}`, import.meta.url));
const command = file('server/cli/endwise.mjs');
const home = join(folder, 'home');
const photos = join(folder, 'photos');
mkdirSync(home);
mkdirSync(photos);
copyFileSync(file('test-images/fresh-02.jpg'), join(photos, 'end.jpg'));

/** Without the variables that keep the engine silent for those who know of them. */
function userEnvironment(): NodeJS.ProcessEnv {
  const env = { ...process.env };
  delete env['ORT_DISABLE_TELEMETRY'];
  return { ...env, HOME: home, XDG_CACHE_HOME: '', ENDWISE_DATA: join(folder, 'data') };
}

function run(program: string, args: readonly string[]) {
  const ran = spawnSync(program, args, { env: userEnvironment(), encoding: 'utf8' });
  return { status: ran.status, stdout: ran.stdout ?? '', stderr: ran.stderr ?? '' };
}

const READ = [command, 'read', join(photos, 'end.jpg'), '--json'];
// Through a worker: a process of its own.
const BATCH = [command, 'batch', photos, '--out', join(folder, 'results.jsonl')];

/** A network of its own without any way out, in which the kernel counts what asks for one. */
const counted = (args: readonly string[]) => {
  const script = join(folder, 'counted.sh');
  writeFileSync(script, '"$@"\nstatus=$?\ncat /proc/net/snmp >&2\nexit $status\n');
  const ran = run('unshare', ['-rn', 'sh', script, process.execPath, ...args]);
  const [names, values] = ran.stderr
    .split('\n')
    .filter((line) => line.startsWith('Ip: '))
    .map((line) => line.split(' '));
  const of = (name: string) => Number(values![names!.indexOf(name)]);
  return { status: ran.status, asked: of('OutNoRoutes') + of('OutRequests') };
};
const hasOwnNetworks = run('unshare', ['-rn', 'true']).status === 0;

it('reads without a look-up, a connection, or a trace in the home', { timeout: 180_000 }, () => {
  if (hasOwnNetworks) {
    const lookUp = ['-e', "require('node:dns').lookup('endwise.invalid', () => {})"];
    const connect = ['-e', "require('node:net').connect(80, '192.0.2.1').on('error', () => {})"];
    expect(counted(lookUp).asked).toBeGreaterThan(0);
    expect(counted(connect).asked).toBeGreaterThan(0);
  }
  for (const args of [READ, BATCH]) {
    if (hasOwnNetworks) expect(counted(args)).toEqual({ status: 0, asked: 0 });
    else expect(run(process.execPath, args).status).toBe(0);
  }
  expect(readdirSync(home)).toEqual([]);
});
