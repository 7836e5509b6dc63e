import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { Log } from '../../../server/log/log.ts';
import { sha256 } from '../../../server/log/photo-store.ts';
import { fillSample } from '../../server/log/sample-log.ts';

export interface KillsReport {
  readonly kills: number;
  /** Kills of a process that kept photos with its ends. */
  readonly withPhotos: number;
  /** Kills before the process had kept anything, the making of the log among them. */
  readonly whileStarting: number;
  readonly kept: number;
  readonly findings: string[];
}

/** A log is looked through after each kill, and set aside for a new one after so many. */
const KILLS_PER_LOG = 25;
const LANES = 3;
const SHARE_WITH_PHOTOS = 0.2;
const SHARE_WHILE_STARTING = 0.1;

/**
 * Kills processes in the middle of keeping ends, over the file as it is on this disk: what one had
 * said to be kept must be there, and the log sound.
 */
export async function killMany(kills: number, random: () => number): Promise<KillsReport> {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-kills-'));
  const keeper = await bundledKeeper();
  const report = { kills: 0, withPhotos: 0, whileStarting: 0, kept: 0, findings: [] as string[] };
  let begun = 0;
  const lane = async (name: number) => {
    for (let part = 0; begun < kills; part++) {
      const own = Math.min(KILLS_PER_LOG, kills - begun);
      begun += own;
      const log = join(folder, `log-${name}-${part}`);
      await killOver(log, keeper, own, random, report);
      rmSync(log, { recursive: true, force: true });
    }
  };
  try {
    await Promise.all(Array.from({ length: LANES }, (_, name) => lane(name)));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return report;
}

async function killOver(
  folder: string,
  keeper: string,
  kills: number,
  random: () => number,
  report: { -readonly [K in keyof KillsReport]: KillsReport[K] },
): Promise<void> {
  // The first dies while it makes the log, perhaps.
  await keepUntilKilled([keeper, folder, '0', 'typed'], { afterStartMs: random() * 500 });
  const start = await Log.open(folder);
  await fillSample(start);
  await start.close();
  const said = new Set<number>();
  for (let kill = 0; kill < kills; kill++) {
    const what = random() < SHARE_WITH_PHOTOS ? 'photos' : 'typed';
    const starting = random() < SHARE_WHILE_STARTING;
    const first = (kill + 1) * 100_000;
    const now = await keepUntilKilled(
      [keeper, folder, String(first), what],
      starting ? { afterStartMs: random() * 400 } : { afterFirstMs: random() * 60 },
    );
    report.kills++;
    if (what === 'photos') report.withPhotos++;
    if (now.length === 0) report.whileStarting++;
    report.kept += now.length;
    for (const number of now) said.add(number);
    report.findings.push(...(await lookThrough(folder, said, kill + 1)));
  }
}

async function lookThrough(
  folder: string,
  said: ReadonlySet<number>,
  killed: number,
): Promise<string[]> {
  const findings: string[] = [];
  const log = await Log.open(folder);
  try {
    const ends = new Map((await log.ends()).map((end) => [end.id, end]));
    for (const number of said) {
      const end = ends.get(`ilka-end-${number}`);
      if (end === undefined) findings.push(`end ${number} is lost`);
      else if (end.arrows.length !== 3) findings.push(`end ${number} lost arrows`);
    }
    for (const { id, photo } of ends.values()) {
      if (photo && sha256(await log.photos.read(photo.file)) !== photo.sha256) {
        findings.push(`the photo of ${id} is damaged`);
      }
    }
    // Beyond what was said, at most the ones that were being kept.
    if (ends.size - said.size > killed) findings.push(`${ends.size - said.size} ends nobody said`);
    if (!(await log.isSound())) findings.push('the log is not sound');
  } catch (error) {
    findings.push(`after ${killed} kills: ${String(error)}`);
  } finally {
    await log.close();
  }
  return findings;
}

/** What a process said before it was killed; only whole lines count as said. */
function keepUntilKilled(
  args: readonly string[],
  when: { readonly afterStartMs: number } | { readonly afterFirstMs: number },
): Promise<number[]> {
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'ignore'] });
  const kill = () => child.kill('SIGKILL');
  let said = '';
  child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
  if ('afterStartMs' in when) setTimeout(kill, when.afterStartMs);
  else child.stdout.once('data', () => setTimeout(kill, when.afterFirstMs));
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', () => resolve(said.split('\n').slice(0, -1).map(Number)));
  });
}

/** As one file, which starts in a fraction of the time; modules keep their own addresses. */
async function bundledKeeper(): Promise<string> {
  const source = new URL('../../server/log/keep-ends.ts', import.meta.url);
  const outfile = fileURLToPath(
    new URL('../../../node_modules/.cache/endwise-kills/keep-ends.mjs', import.meta.url),
  );
  await build({
    entryPoints: [fileURLToPath(source)],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
    logLevel: 'silent',
    plugins: [
      {
        name: 'own-addresses',
        setup(builder) {
          builder.onLoad({ filter: /[\\/](src|server)[\\/].*\.ts$/ }, async ({ path }) => {
            const address = JSON.stringify(pathToFileURL(path).href);
            const code = await readFile(path, 'utf8');
            return { contents: code.replaceAll('import.meta.url', address), loader: 'ts' };
          });
        },
      },
    ],
  });
  return outfile;
}
