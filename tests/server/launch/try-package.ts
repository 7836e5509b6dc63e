import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/*
 * Packs endwise, installs the tarball in an empty folder as a person would, says how large that is and
 * runs it. It fetches packages and takes minutes: it belongs to the checks of a release, not to the tests.
 */

const MOST_MB = { 'with its machine code': 300, 'without it': 220 };
const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const PHOTO = join(ROOT, 'test-images', 'fresh-02.jpg');
const folder = mkdtempSync(join(tmpdir(), 'endwise-package-'));
const run = (command: string, args: readonly string[], cwd = folder) =>
  execFileSync(command, args, { cwd, encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] });
const megabytes = (path: string) => Number(run('du', ['-sm', path]).split('\t')[0]);

try {
  run('npm', ['pack', '--silent', '--pack-destination', folder], ROOT);
  const tarball = readdirSync(folder).find((name) => name.endsWith('.tgz'))!;
  run('npm', ['init', '--yes', '--silent']);
  run('npm', ['install', '--omit=dev', '--no-audit', '--no-fund', `./${tarball}`]);
  const modules = join(folder, 'node_modules');
  const whole = megabytes(modules);
  const engine = megabytes(join(modules, 'endwise/dist/server/onnxruntime-node'));
  const sizes = { 'with its machine code': whole, 'without it': whole - engine };
  for (const [what, most] of Object.entries(MOST_MB)) {
    const size = sizes[what as keyof typeof sizes];
    console.log(`installed ${what}: ${size} MB, at most ${most}`);
    if (size > most) process.exitCode = 1;
  }
  const endwise = join(modules, '.bin', 'endwise');
  console.log(run(endwise, ['--version']) + run(endwise, ['doctor']));
  console.log(run(endwise, ['read', PHOTO, '--shaft', '8.1', '--fletched', '3', '--bare', '2']));
} finally {
  rmSync(folder, { recursive: true });
}
