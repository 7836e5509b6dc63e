import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/*
 * npm run on-node -- 22 24
 * Runs the tests of the core and of the photos that it reads on other versions of Node, brought from
 * the npm registry. Those of the server stay out: their database is compiled for one version.
 */
const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const VITEST = join(ROOT, 'node_modules', 'vitest', 'vitest.mjs');
const OTHERS = new Set(['server', 'web', 'bench', 'golden']);
const folders = readdirSync(join(ROOT, 'tests'), { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && !OTHERS.has(entry.name))
  .map(({ name }) => `tests/${name}/`);

const versions = process.argv.slice(2);
if (versions.length === 0) {
  console.error('Name the versions: npm run on-node -- 22 24');
  process.exit(2);
}
for (const version of versions) {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-node-'));
  try {
    execFileSync('npm', ['init', '--yes', '--silent'], { cwd: folder, stdio: 'ignore' });
    const install = ['install', '--no-audit', '--no-fund', '--silent', `node@${version}`];
    execFileSync('npm', install, { cwd: folder, stdio: 'inherit' });
    const name = `node-${process.platform === 'win32' ? 'win' : process.platform}-${process.arch}`;
    const [bin] = ['node/node_modules', '']
      .map((under) => join(folder, 'node_modules', under, name, 'bin'))
      .filter((path) => spawnSync(join(path, 'node'), ['--version']).status === 0);
    if (bin === undefined) throw new Error(`There is no Node ${version} for this machine.`);
    const { status } = spawnSync(
      join(bin, 'node'),
      [VITEST, 'run', '--project', 'code', 'tests/index.test.ts', ...folders],
      {
        cwd: ROOT,
        stdio: 'inherit',
        env: { ...process.env, PATH: `${bin}:${process.env['PATH']}` },
      },
    );
    const said = execFileSync(join(bin, 'node'), ['--version'], { encoding: 'utf8' }).trim();
    console.log(`${said}: ${status === 0 ? 'passed' : 'failed'}`);
    if (status !== 0) process.exitCode = 1;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
