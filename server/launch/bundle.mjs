import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { readFile, rename, rm, writeFile } from 'node:fs/promises';
import { basename, join, relative } from 'node:path';
import process from 'node:process';
import { fileURLToPath, pathToFileURL, URL } from 'node:url';
import { splitOpenCv } from './split-open-cv.mjs';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Where an installed package, which has no sources, carries its bundle. */
export const PACKED = join(ROOT, 'dist', 'server');
const CACHE = join(ROOT, 'node_modules', '.cache', 'endwise');
const MANIFEST = join(ROOT, 'package.json');

/** Modules that start a process or a thread; everything they import is bundled with them. */
const ENTRIES = [
  'server/cli/endwise.ts',
  'server/reading/reading-worker.ts',
  'server/reading/network-thread.ts',
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
  'libheif-js',
  'express',
  'pino',
  'pg',
  'pg-boss',
  'pg-copy-streams',
  'prom-client',
];

/** OpenCV's, beside the bundles. */
const WASM = 'opencv.wasm';

/** Bundles of earlier states of the code that are kept, for processes that still load from them. */
const KEPT = 4;

/**
 * The file in which a TypeScript module lies bundled with all that it imports, built first where the
 * code has changed since: loading some hundred small files one by one costs seconds, one file does not.
 * @param {string} source path of the module
 * @returns {Promise<string | null>} URL of the bundled module, or null where it is not an entry
 */
export async function bundledModule(source) {
  const entry = forwardSlashes(relative(ROOT, source));
  if (!ENTRIES.includes(entry)) return null;
  const folder = existsSync(source) ? join(CACHE, stampOfCode()) : PACKED;
  if (!existsSync(folder)) await buildOnce(folder);
  return pathToFileURL(join(folder, basename(entry).replace(/\.ts$/, '.cjs'))).href;
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

async function buildOnce(folder) {
  const own = join(CACHE, `building-${randomUUID()}`);
  try {
    await buildBundle(own, []);
    // Of two processes that build at once, the second finds the folder there: it holds the same.
    await rename(own, folder).catch((error) => {
      if (!existsSync(folder)) throw error;
    });
  } finally {
    await rm(own, { recursive: true, force: true });
  }
  await removeOld();
}

/**
 * Builds the bundle, all files directly in one folder, which may be moved to any other of the same depth.
 * It is of CommonJS modules, since of these alone every version of Node can keep the compiled code.
 * @param {string} folder
 * @param {import('esbuild').Plugin[]} plugins that come before our own
 */
export async function buildBundle(folder, plugins) {
  const { build } = await import('esbuild');
  const { glue, wasm } = await splitOpenCv(
    `{ wasmBinary: require('node:fs').readFileSync(require('node:path').join(__dirname, '${WASM}')) }`,
  );
  const built = await build({
    entryPoints: ENTRIES,
    entryNames: '[name]',
    absWorkingDir: ROOT,
    outdir: folder,
    outExtension: { '.js': '.cjs' },
    bundle: true,
    format: 'cjs',
    // Code that is compiled from a cache may not import anything later; it can require it.
    supported: { 'dynamic-import': false },
    platform: 'node',
    target: 'node20.19',
    logLevel: 'silent',
    metafile: true,
    banner: { js: "const bundleUrl = require('node:url').pathToFileURL(__filename);" },
    external: UNBUNDLED,
    plugins: [...plugins, ownAddresses(folder), openCvAs(glue)],
  });
  await writeFile(join(folder, WASM), wasm);
  return built;
}

/**
 * Modules find their data files, workers and the page by their own address: it stays the source's, as
 * seen from the bundle.
 */
const ownAddresses = (folder) => ({
  name: 'own-addresses',
  setup(builder) {
    builder.onLoad({ filter: /[\\/](src|server)[\\/].*\.ts$/ }, async ({ path }) => {
      if (path.includes('node_modules')) return undefined;
      const source = JSON.stringify(forwardSlashes(relative(folder, path)));
      const code = await readFile(path, 'utf8');
      const address = `new URL(${source}, bundleUrl).href`;
      return { contents: code.replaceAll('import.meta.url', address), loader: 'ts' };
    });
  },
});

const openCvAs = (glue) => ({
  name: 'opencv',
  setup(builder) {
    builder.onLoad({ filter: /opencv-js[\\/]dist[\\/]opencv\.js$/ }, () => ({ contents: glue }));
  },
});

async function removeOld() {
  const folders = readdirSync(CACHE)
    .map((name) => join(CACHE, name))
    .map((path) => ({ path, at: statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0 }))
    .sort((a, b) => b.at - a.at);
  for (const { path } of folders.slice(KEPT)) await rm(path, { recursive: true, force: true });
}

function forwardSlashes(path) {
  return path.replaceAll('\\', '/');
}
