import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import type { Profiler } from 'node:inspector';
import { Session } from 'node:inspector/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { decodePhoto } from '../../server/decode/decode-photo.ts';
import { photoBytes } from '../../server/decode/read-photo-file.ts';
import { loadPhotoReader } from '../../server/reading/load-photo-reader.ts';
import { readingRequestSchema } from '../../src/request/request.ts';
import { truthsIn, type Truth } from '../measure/truth.ts';
import { PHONE, sharedBrowser } from '../web/browser.ts';
import serveBuiltPage from '../web/serve-built-page.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';

const COMMAND = fileURLToPath(new URL('../../server/cli/endwise.mjs', import.meta.url));
const SHOWN = 10;
/** Each kind of photo spends its time elsewhere. */
const KINDS = ['fresh', 'used', 'standing'] as const;
/** Read after a first one, when everything is loaded and compiled. */
const LATER_READINGS = 3;

type Profile = Profiler.Profile;

/**
 * Where the time goes of a first reading on the command line, of later ones of each kind of photo, and
 * of the start of the page: the largest shares of each, of functions alone and with all that they call. What runs outside
 * JavaScript's threads (the networks' machine code, decoding) is waiting here.
 */
export async function profileBench(): Promise<void> {
  const folder = PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const truths = KINDS.map((kind) => truthsIn(folder).find(({ category }) => category === kind)!);
  show('first reading on the command line', firstReading(folder, truths[0]!));
  for (const truth of truths) {
    const profile = await laterReadings(folder, truth);
    show(`${LATER_READINGS} later readings (${truth.category})`, [profile]);
  }
  show('start of the page', [await pageStart()]);
}

function firstReading(photos: string, { photo, face, shaft_mm: shaftMm }: Truth): Profile[] {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-profile-'));
  const request = ['--face', face, '--shaft', String(shaftMm)];
  const line = [COMMAND, 'read', join(photos, photo), ...request, '--json'];
  // The first one makes the bundle.
  spawnSync(process.execPath, [COMMAND, '--help']);
  spawnSync(process.execPath, ['--cpu-prof', '--cpu-prof-dir', folder, ...line]);
  const profiles = readdirSync(folder)
    .filter((name) => name.endsWith('.cpuprofile'))
    .map((name) => JSON.parse(readFileSync(join(folder, name), 'utf8')) as Profile);
  rmSync(folder, { recursive: true });
  return profiles;
}

async function laterReadings(folder: string, truth: Truth): Promise<Profile> {
  const path = join(folder, truth.photo);
  // With one thread, in which the networks run too: they are among the shares.
  const reader = await loadPhotoReader(1);
  const request = readingRequestSchema.parse({ face: truth.face, shaftMm: truth.shaft_mm });
  const read = async () => reader(await decodePhoto(await photoBytes(path)), request, {});
  await read();
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.start');
  for (let i = 0; i < LATER_READINGS; i++) await read();
  const { profile } = await session.post('Profiler.stop');
  session.disconnect();
  return profile;
}

async function pageStart(): Promise<Profile> {
  let url = '';
  const close = await serveBuiltPage({
    provide: (_key: string, value: string) => (url = value),
  } as unknown as Parameters<typeof serveBuiltPage>[0]);
  const browser = await sharedBrowser();
  const context = await browser.newContext({ ...PHONE, serviceWorkers: 'block' });
  const page = await context.newPage();
  const cdp = await context.newCDPSession(page);
  await cdp.send('Profiler.enable');
  await cdp.send('Profiler.start');
  await page.goto(url);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForLoadState('networkidle');
  const { profile } = await cdp.send('Profiler.stop');
  await browser.close();
  await close();
  return profile;
}

function show(name: string, profiles: readonly Profile[]): void {
  const alone = new Map<string, number>();
  const withCalls = new Map<string, number>();
  let busyMs = 0;
  for (const { nodes, samples = [], timeDeltas = [] } of profiles) {
    const byId = new Map(nodes.map((node) => [node.id, node]));
    const parents = new Map(
      nodes.flatMap(({ id, children = [] }) => children.map((child) => [child, id] as const)),
    );
    samples.forEach((id, i) => {
      const ms = timeDeltas[i]! / 1000;
      if (byId.get(id)!.callFrame.functionName === '(idle)') return;
      busyMs += ms;
      add(alone, nameOf(byId.get(id)!.callFrame), ms);
      const stack = new Set<string>();
      for (let at: number | undefined = id; at !== undefined; at = parents.get(at)) {
        stack.add(nameOf(byId.get(at)!.callFrame));
      }
      for (const one of stack) add(withCalls, one, ms);
    });
  }
  console.log(`\nCPU time of the ${name}: ${Math.round(busyMs)} ms`);
  const rows = (shares: ReadonlyMap<string, number>) =>
    [...shares]
      .filter(([one]) => one !== '(root)')
      .sort((a, b) => b[1] - a[1])
      .slice(0, SHOWN);
  const largest = rows(alone);
  console.table(
    rows(withCalls).map(([one, ms], i) => ({
      alone: largest[i]?.[0],
      aloneMs: Math.round(largest[i]?.[1] ?? 0),
      withCalls: one,
      withCallsMs: Math.round(ms),
    })),
  );
}

function add(shares: Map<string, number>, name: string, ms: number): void {
  shares.set(name, (shares.get(name) ?? 0) + ms);
}

/** WebAssembly's functions have no names that would say anything. */
function nameOf({ functionName, url }: Profile['nodes'][number]['callFrame']): string {
  if (functionName.startsWith('wasm-') || url.startsWith('wasm:')) return 'WebAssembly';
  const file = basename(url).replace(/\?.*$/, '');
  return file ? `${functionName || '(module)'} ${file}` : functionName || '(module)';
}
