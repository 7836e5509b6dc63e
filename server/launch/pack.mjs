import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { copyFile, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import process from 'node:process';
import { build } from 'esbuild';
import { buildBundle, PACKED, ROOT } from './bundle.mjs';
import { licencesOf } from './licences.mjs';

/*
 * What an installed package needs beside its few dependencies: the server bundled, the networks' engine,
 * the core for others to import, and the licences of what is bundled. The page is built before.
 */

const require = createRequire(import.meta.url);

/** What the networks' engines hold for everything else, 400 MB, is left out: these files are run. */
const ENGINES = {
  'onnxruntime-web': {
    modules: 'dist',
    files: ['dist/ort-wasm-simd-threaded.mjs', 'dist/ort-wasm-simd-threaded.wasm'],
  },
  // For servers: on other systems WebAssembly does the same, only slower.
  'onnxruntime-node': {
    modules: 'dist',
    files: ['x64', 'arm64'].flatMap((processor) =>
      ['libonnxruntime.so.1', 'onnxruntime_binding.node'].map(
        (name) => `bin/napi-v6/linux/${processor}/${name}`,
      ),
    ),
  },
};

async function packEngine(name) {
  const { modules, files } = ENGINES[name];
  const own = join(PACKED, name);
  const from = join(dirname(require.resolve(name)), '..');
  for (const file of files) {
    await mkdir(dirname(join(own, file)), { recursive: true });
    await copyFile(join(from, file), join(own, file));
  }
  const { metafile } = await build({
    stdin: {
      contents: `module.exports = require(${JSON.stringify(name)});`,
      resolveDir: ROOT,
    },
    outfile: join(own, modules, 'engine.cjs'),
    absWorkingDir: ROOT,
    bundle: true,
    format: 'cjs',
    platform: 'node',
    logLevel: 'silent',
    metafile: true,
    plugins: [lateBinding],
  });
  return metafile;
}

/** The machine code is chosen when it runs. */
const lateBinding = {
  name: 'late-binding',
  setup(builder) {
    builder.onLoad({ filter: /onnxruntime-node[\\/]dist[\\/]binding\.js$/ }, async ({ path }) => {
      const code = await readFile(path, 'utf8');
      return { contents: code.replace(/require\((`.*?`)\)/, 'require(String($1))') };
    });
  },
};

const packedEngines = {
  name: 'packed-engines',
  setup(builder) {
    builder.onResolve({ filter: /^onnxruntime-(web|node)$/ }, ({ path }) => ({
      path: `./${path}/${ENGINES[path].modules}/engine.cjs`,
      external: true,
    }));
  },
};

/** The public face of the core for others to import, with its types. */
async function packCore() {
  const folder = join(ROOT, 'dist', 'core');
  await rm(folder, { recursive: true, force: true });
  const { metafile } = await build({
    entryPoints: ['src/index.ts'],
    outfile: join(folder, 'index.js'),
    absWorkingDir: ROOT,
    bundle: true,
    format: 'esm',
    // It runs wherever JavaScript does: what packages have for browsers asks nothing of Node.
    platform: 'browser',
    target: 'es2023',
    logLevel: 'silent',
    metafile: true,
    external: ['@techstark/opencv-js'],
  });
  const compiler = join(dirname(require.resolve('typescript')), 'tsc.js');
  // `npm run typecheck` checks them.
  const types = ['--noEmit', 'false', '--declaration', '--emitDeclarationOnly', '--noCheck'];
  execFileSync(
    process.execPath,
    [compiler, '-p', 'tsconfig.core.json', ...types, '--outDir', folder],
    { cwd: ROOT, stdio: 'inherit' },
  );
  return metafile;
}

if (!existsSync(join(ROOT, 'dist', 'web', 'index.html'))) {
  throw new Error('The page is not built: npm run build comes first.');
}
await rm(PACKED, { recursive: true, force: true });
const { metafile } = await buildBundle(PACKED, [packedEngines]);
const engines = await Promise.all(Object.keys(ENGINES).map(packEngine));
const core = await packCore();
const modules = [metafile, core, ...engines].flatMap(({ inputs }) => Object.keys(inputs));
const licences = await licencesOf(modules.map((path) => join(ROOT, path)));
await writeFile(join(PACKED, 'licences.md'), licences);
