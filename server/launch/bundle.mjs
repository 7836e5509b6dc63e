import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { readFile, rename, rm } from 'node:fs/promises';
import { join, relative } from 'node:path';
import process from 'node:process';
import { fileURLToPath, pathToFileURL, URL } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const CACHE = join(ROOT, 'node_modules', '.cache', 'endwise');
const MANIFEST = join(ROOT, 'package.json');

/** Modules that start a process or a thread; everything they import is bundled with them. */
const ENTRIES = [
  'server/cli/endwise.ts',
  'server/reading/reading-worker.ts',
  'server/decode/clean-photo.ts',
  'server/log/import-worker.ts',
];

/** Native code, WebAssembly and packages that look for files beside themselves stay where they are. */
const UNBUNDLED = [
  'sharp',
  'better-sqlite3',
  'workerpool',
  'onnxruntime-node',
  'onnxruntime-web',
  'heic-decode',
  'express',
  'pino',
];

/** Bundles of earlier states of the code that are kept, for processes that still load from them. */
const KEPT = 6;

/**
 * The file in which a TypeScript module lies bundled with all that it imports, built first where the
 * code has changed since: loading some hundred small files one by one costs seconds, one file does not.
 * @param {string} source path of the module
 * @returns {Promise<string | null>} URL of the bundled module, or null where it is not an entry
 */
export async function bundledModule(source) {
  const entry = relative(ROOT, source).replaceAll('\\', '/');
  if (!ENTRIES.includes(entry)) return null;
  const folder = join(CACHE, stampOfCode());
  if (!existsSync(folder)) await build(folder);
  return pathToFileURL(join(folder, entry.replace(/\.ts$/, '.mjs'))).href;
}

/** Builds the bundle where it is missing. */
export async function prepareBundle() {
  await bundledModule(join(ROOT, ENTRIES[0]));
}

/** Changes whenever a file of ours or an installed package does. */
function stampOfCode() {
  const hash = createHash('sha256');
  const add = (path) => {
    const { size, mtimeMs } = statSync(path, { throwIfNoEntry: false }) ?? {};
    hash.update(`${path}\0${size}\0${mtimeMs}\n`);
  };
  for (const folder of ['src', 'server']) {
    const files = readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' });
    files
      .filter((file) => /\.(ts|mjs)$/.test(file))
      .forEach((file) => add(join(ROOT, folder, file)));
  }
  add(MANIFEST);
  add(join(ROOT, 'node_modules', '.package-lock.json'));
  return hash.update(process.version).digest('hex').slice(0, 16);
}

async function build(folder) {
  const { build: esbuild } = await import('esbuild');
  const own = join(CACHE, `building-${randomUUID()}`);
  try {
    await esbuild({
      entryPoints: ENTRIES,
      absWorkingDir: ROOT,
      outdir: own,
      outbase: ROOT,
      outExtension: { '.js': '.mjs' },
      bundle: true,
      splitting: true,
      format: 'esm',
      platform: 'node',
      target: 'node20.19',
      logLevel: 'silent',
      // Bundled CommonJS packages ask for Node's own modules by `require`.
      banner: {
        js: `import { createRequire as requireOf } from 'node:module'; const require = requireOf(${JSON.stringify(MANIFEST)});`,
      },
      external: UNBUNDLED,
      plugins: [ownAddresses, requireOpenCv],
    });
    // Of two processes that build at once, the second finds the folder there: it holds the same.
    await rename(own, folder).catch((error) => {
      if (!existsSync(folder)) throw error;
    });
  } finally {
    await rm(own, { recursive: true, force: true });
  }
  await removeOld();
}

/** Modules find their data files, workers and the page by their own address: it stays the source's. */
const ownAddresses = {
  name: 'own-addresses',
  setup(builder) {
    builder.onLoad({ filter: /[\\/](src|server)[\\/].*\.ts$/ }, async ({ path }) => {
      if (path.includes('node_modules')) return undefined;
      const address = JSON.stringify(pathToFileURL(path).href);
      const code = await readFile(path, 'utf8');
      return { contents: code.replaceAll('import.meta.url', address), loader: 'ts' };
    });
  },
};

/** By `require`, since `import` reads a package of 10 MB through once more to learn its names. */
const requireOpenCv = {
  name: 'require-opencv',
  setup(builder) {
    const namespace = 'opencv';
    builder.onResolve({ filter: /^@techstark\/opencv-js$/ }, ({ path, kind }) =>
      kind === 'require-call' ? { path, external: true } : { path, namespace },
    );
    builder.onLoad({ filter: /.*/, namespace }, ({ path }) => ({
      contents: `module.exports = require(${JSON.stringify(path)});`,
    }));
  },
};

async function removeOld() {
  const folders = readdirSync(CACHE)
    .map((name) => join(CACHE, name))
    .map((path) => ({ path, at: statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0 }))
    .sort((a, b) => b.at - a.at);
  for (const { path } of folders.slice(KEPT)) await rm(path, { recursive: true, force: true });
}
