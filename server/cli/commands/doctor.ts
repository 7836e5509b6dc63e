import { constants } from 'node:fs';
import { access, statfs } from 'node:fs/promises';
import type { Command } from 'commander';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { EXIT, UsageError } from '../terminal/exit.ts';

/** Below this, keeping photos will soon fail. */
const LEAST_FREE_BYTES = 500 * 1024 * 1024;

const LEAST_NODE = [20, 19] as const;

export function addDoctorCommand(program: Command): void {
  program
    .command('doctor')
    .description('checks the installation and the log, and says what is missing')
    .option('--take-back', 'put photos that ends miss back from the folder beside them')
    .addOption(databaseOption())
    .action(doctor);
}

async function doctor(options: { takeBack?: true } & LogOptions): Promise<void> {
  if (options.takeBack) {
    await takeBack(options);
    return;
  }
  const checks: [what: string, check: () => Promise<string>][] = [
    ['Node', node],
    ['photo decoder', decoder],
    ['HEIC decoder', heic],
    ['OpenCV', openCv],
    ['mark network', network],
    ['built page', page],
    ['data folder', data],
    ['log', () => log(options)],
    ['photos without an end', aside],
  ];
  let missing = 0;
  for (const [what, check] of checks) {
    const said = await check().then(
      (found) => `ok       ${what}: ${found}`,
      (error: unknown) => {
        missing++;
        return `MISSING  ${what}: ${error instanceof Error ? error.message : String(error)}`;
      },
    );
    process.stdout.write(said + '\n');
  }
  if (missing > 0) process.exitCode = EXIT.unreadable;
}

function node(): Promise<string> {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const old = major < LEAST_NODE[0] || (major === LEAST_NODE[0] && minor < LEAST_NODE[1]);
  return old
    ? Promise.reject(
        new Error(`version ${process.versions.node}; ${LEAST_NODE.join('.')} is needed`),
      )
    : Promise.resolve(process.versions.node);
}

async function decoder(): Promise<string> {
  const { default: sharp } = await import('sharp');
  return `libvips ${sharp.versions.vips}`;
}

async function heic(): Promise<string> {
  const { loadLibheif } = await import('../../decode/load-libheif.ts');
  await loadLibheif();
  return 'libheif is there';
}

async function openCv(): Promise<string> {
  const { loadOpenCv } = await import('../../../src/raster/load-open-cv.ts');
  const { cv } = await loadOpenCv();
  const mat = new cv.Mat(1, 1, cv.CV_8U);
  mat.delete();
  return 'starts';
}

async function network(): Promise<string> {
  const { loadNetworks } = await import('../../reading/load-networks.ts');
  if ((await loadNetworks()) === null) {
    throw new Error(
      'weights are missing in src/marks/network/weights: marks are found by hand-made means',
    );
  }
  const { loadNetworkRuntime } = await import('../../reading/network-runtime.ts');
  const { provider } = await loadNetworkRuntime();
  return provider === 'cpu'
    ? 'starts, as machine code'
    : 'starts, as WebAssembly: slower, since onnxruntime-node is not installed or has no build here';
}

async function page(): Promise<string> {
  const index = new URL('../../../dist/web/index.html', import.meta.url);
  await access(index).catch(() => {
    throw new Error('not built yet: npm start builds it');
  });
  return 'built';
}

async function data(): Promise<string> {
  const { mkdir } = await import('node:fs/promises');
  const { dataFolder } = await import('../../log/data-folder.ts');
  const folder = dataFolder();
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await access(folder, constants.W_OK);
  const { bavail, bsize } = await statfs(folder);
  const free = bavail * bsize;
  const freeText = `${(free / 1e9).toFixed(1)} GB free`;
  if (free < LEAST_FREE_BYTES) throw new Error(`${folder} has only ${freeText}`);
  return `${folder}, ${freeText}`;
}

async function log(options: LogOptions): Promise<string> {
  const { withLog } = await import('../options/with-log.ts');
  return withLog(options, async (opened) => {
    if (!(await opened.isSound()))
      throw new Error('the file is damaged: restore it from an export');
    const { ends } = await opened.everything();
    const photos = ends.filter((end) => end.photo !== null);
    const problems: string[] = [];
    for (const end of photos) {
      await opened.photos.readSound(end.photo!).catch((error: Error) => {
        problems.push(`of the end of ${end.shotAt.slice(0, 16)}: ${error.message}`);
      });
    }
    if (problems.length > 0) {
      throw new Error(['photos are missing or damaged', ...problems].join('\n         '));
    }
    return `sound, ${ends.length} ends, ${photos.length} photos`;
  });
}

/** Photos that no end names are no fault: they are told, and how they come back. */
async function aside(): Promise<string> {
  const { dataFolder } = await import('../../log/data-folder.ts');
  const { PhotoFolder } = await import('../../log/photo-folder.ts');
  const store = new PhotoFolder(dataFolder());
  const files = await store.aside();
  if (files.length === 0) return 'none';
  return [
    `${files.length} in ${store.asideFolder}:`,
    ...files.map((file) => `  ${file}`),
    'They come back by themselves when the log that names them is back in its place;',
    '"endwise doctor --take-back" looks for them by their content, too.',
  ].join('\n         ');
}

async function takeBack(options: LogOptions): Promise<void> {
  const { withLog } = await import('../options/with-log.ts');
  await withLog(options, async (opened) => {
    const { photoFolder } = opened;
    if (photoFolder === null) {
      throw new UsageError(
        'The photos of this log lie in its database: there is no folder beside.',
      );
    }
    const ends = await opened.ends();
    const back = [
      ...opened.tidied.takenBack,
      ...(await photoFolder.takeBack(ends.flatMap(({ photo }) => (photo ? [photo] : [])))),
    ];
    const left = await photoFolder.aside();
    const rest =
      left.length === 0
        ? ''
        : ` ${left.length} that no end of this log names stay in ${photoFolder.asideFolder}.`;
    process.stdout.write(`${back.length} photos are back with their ends.${rest}\n`);
  });
}
