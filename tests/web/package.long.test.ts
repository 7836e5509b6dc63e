import { execFileSync, spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { z } from 'zod';
import { testImage } from './browser.ts';
import { folderPrefix } from '../server/folders-of-runs.ts';

/*
 * The files that `npm pack` would pack, with the page as the tests have built it, in a folder of their
 * own beside nothing but the packages that an installation brings with it. (`npm run try-package`
 * packs and installs for real.)
 */

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const folder = mkdtempSync(folderPrefix());
const endwise = join(folder, 'node_modules', 'endwise', 'server', 'cli', 'endwise.mjs');
const env = { ...process.env, ENDWISE_DATA: join(folder, 'data'), INIT_CWD: '' };
const run = (...args: string[]) =>
  execFileSync(process.execPath, [endwise, ...args], { cwd: folder, env, encoding: 'utf8' });

/**
 * The files that npm would pack, by path. It also compresses what it lists, most of it machine code: it is
 * asked about files of the same names with nothing in them.
 */
function packedFiles(): string[] {
  const named = join(folder, 'named');
  for (const top of readdirSync(ROOT, { withFileTypes: true })) {
    if (top.name === 'node_modules' || top.name === '.git') continue;
    const within = top.isDirectory()
      ? readdirSync(join(ROOT, top.name), { recursive: true, withFileTypes: true })
      : [top];
    for (const file of within.filter((entry) => entry.isFile())) {
      const path = join(named, relative(ROOT, join(file.parentPath, file.name)));
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, '');
    }
  }
  for (const rules of ['package.json', '.gitignore']) cpSync(join(ROOT, rules), join(named, rules));
  const listed = execFileSync('npm', ['pack', '--ignore-scripts', '--dry-run', '--json'], {
    cwd: named,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const [{ files }] = z
    .tuple([z.object({ files: z.array(z.object({ path: z.string() })) })])
    .parse(JSON.parse(listed));
  return files.map(({ path }) => path);
}

beforeAll(() => {
  execFileSync(process.execPath, [join(ROOT, 'server/launch/pack.mjs')]);
  const modules = join(folder, 'node_modules');
  for (const path of packedFiles()) cpSync(join(ROOT, path), join(modules, 'endwise', path));
  const lock = z
    .object({ packages: z.record(z.string(), z.object({ dev: z.boolean().optional() })) })
    .parse(JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')));
  for (const [place, { dev }] of Object.entries(lock.packages)) {
    const path = join(ROOT, place);
    // Left out: what is for developing, for other machines, and endwise itself.
    if (dev || place === '' || !existsSync(path)) continue;
    const name = relative(join(ROOT, 'node_modules'), path);
    // Packages within packages come with these.
    if (name.includes('node_modules')) continue;
    mkdirSync(dirname(join(modules, name)), { recursive: true });
    symlinkSync(path, join(modules, name));
  }
}, 300_000);
afterAll(() => rmSync(folder, { recursive: true }));

it('has everything it needs, and nothing that is only for developing', () => {
  const said = run('doctor');
  expect(said).not.toContain('MISSING');
  expect(said).toContain('built page: built');
  const modules = readdirSync(join(folder, 'node_modules'));
  expect(modules).toContain('sharp');
  for (const name of ['vite', 'tsx', 'esbuild', 'typescript', 'preact', 'onnxruntime-node']) {
    expect(modules).not.toContain(name);
  }
});

it('reads a photo in a process of its own', () => {
  cpSync(testImage('fresh-02.jpg'), join(folder, 'photos', 'end.jpg'), { recursive: true });
  run(
    'batch',
    'photos',
    '--out',
    'out.jsonl',
    '--face',
    'wa80',
    '--shaft',
    '8.1',
    '--workers',
    '1',
  );
  const line = JSON.parse(readFileSync(join(folder, 'out.jsonl'), 'utf8')) as { reading: object };
  expect(line.reading).toMatchObject({ face: 'wa80', score: { arrows: 5 } });
});

it('serves the page as built', async () => {
  const server = spawn(process.execPath, [endwise, 'serve', '--port', '0'], { cwd: folder, env });
  const ended = new Promise((resolve) => server.once('close', resolve));
  let said = '';
  server.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
  await expect.poll(() => said, { timeout: 60_000 }).toMatch(/endwise is at http:\S+/);
  const url = /http:\S+/.exec(said)![0];
  const page = await (await fetch(url)).text();
  const script = /<script[^>]*src="\.\/([^"]+)"/.exec(page)![1]!;
  expect((await fetch(new URL(script, url))).status).toBe(200);
  expect(await (await fetch(new URL('api/health', url))).json()).toMatchObject({ status: 'ok' });
  server.kill('SIGTERM');
  expect(await ended).toBe(0);
});

it('lets others import the core, with its types', () => {
  const program = [
    "import { groupsOf, type Groups } from 'endwise';",
    "const groups: Groups = groupsOf([{ mm: [0, 3], kind: 'bare' }, { mm: [1, 2], kind: 'fletched' }]);",
    'console.log(groups.offset?.mm.join());',
  ].join('\n');
  writeFileSync(join(folder, 'program.mts'), program);
  writeFileSync(
    join(folder, 'program.mjs'),
    program.replace(', type Groups', '').replace(': Groups', ''),
  );
  const compiler = join(ROOT, 'node_modules/typescript/lib/tsc.js');
  symlinkSync(join(ROOT, 'node_modules/zod'), join(folder, 'node_modules/zod'));
  const options = [
    '--noEmit',
    '--strict',
    '--skipLibCheck',
    '--module',
    'nodenext',
    '--lib',
    'es2023,dom',
  ];
  execFileSync(process.execPath, [compiler, ...options, 'program.mts'], {
    cwd: folder,
  });
  const said = execFileSync(process.execPath, ['program.mjs'], { cwd: folder, encoding: 'utf8' });
  expect(said.trim()).toBe('-1,1');
});
