import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import sharp from 'sharp';
import { unzipSync, zipSync } from 'fflate';
import { GatherError } from '../../../server/batch/gather-error.ts';
import { gatherZip } from '../../../server/batch/gather-zip.ts';
import { ManifestError, readManifest } from '../../../server/batch/manifest.ts';
import { appOfTests } from '../http/app-of-tests.ts';
import { listen } from '../../../server/http/listen.ts';
import { ARCHIVE_ENTRY } from '../../../src/tuning/record/archive.ts';
import { exportLog } from '../../../server/log/export-log.ts';
import { Log } from '../../../server/log/log.ts';
import { LogError } from '../../../server/log/log-error.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { ReadingPool } from '../../../server/reading/reading-pool.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { random as seeded } from '../../groups/random.ts';
import { mutate } from './mutate.ts';
import { mutateJson } from './mutate-json.ts';
import { folderPrefix } from '../folders-of-runs.ts';

export interface FuzzReport {
  readonly photos: Record<string, number>;
  readonly manifests: Record<string, number>;
  readonly archives: Record<string, number>;
  /** Exports of a log. */
  readonly logs: Record<string, number>;
  readonly requests: Record<string, number>;
  readonly slowestMs: number;
  /** What must not be: crashes, hangs, faults of ours, stack traces, a log that is not sound. */
  readonly findings: string[];
}

/** Longest that one photo's decode or one answer may take, s. */
const LIMIT_SECONDS = 30;

/**
 * Feeds mutated photos, manifests, archives and requests to every route to what takes them from outside.
 * @param rounds inputs in all: four of ten are photos, three are requests
 */
export async function runFuzz(rounds: number, seed: number): Promise<FuzzReport> {
  const folder = mkdtempSync(folderPrefix());
  const report: FuzzReport = {
    photos: {},
    manifests: {},
    archives: {},
    logs: {},
    requests: {},
    slowestMs: 0,
    findings: [],
  };
  const random = seeded(seed).uniform;
  try {
    const slowestMs = await fuzzPhotos(Math.ceil(rounds * 0.4), random, report);
    await fuzzManifests(Math.ceil(rounds * 0.1), random, folder, report);
    await fuzzArchives(Math.ceil(rounds * 0.1), random, folder, report);
    await fuzzLogs(Math.ceil(rounds * 0.1), random, folder, report);
    await fuzzRequests(Math.ceil(rounds * 0.3), random, folder, report);
    return { ...report, slowestMs };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const count = (counts: Record<string, number>, key: string) => {
  counts[key] = (counts[key] ?? 0) + 1;
};
const pick = <T>(items: readonly T[], random: () => number) =>
  items[Math.floor(random() * items.length)]!;

async function seedPhotos(): Promise<Buffer[]> {
  const picture = sharp({ create: { width: 96, height: 64, channels: 3, background: '#c84' } });
  const exif = { IFD2: { FocalLengthIn35mmFilm: '26', DateTimeOriginal: '2031:05:04 18:03:09' } };
  return [
    await picture.clone().jpeg().withExif(exif).toBuffer(),
    await picture.clone().jpeg({ progressive: true }).toBuffer(),
    await picture.clone().toColourspace('cmyk').jpeg().toBuffer(),
    await picture.clone().png().toBuffer(),
    await picture.clone().toColourspace('rgb16').png().toBuffer(),
    await picture.clone().webp().toBuffer(),
    await picture.clone().webp({ lossless: true }).toBuffer(),
    await picture.clone().gif().toBuffer(),
    await picture.clone().tiff().toBuffer(),
    readFileSync(new URL('../decode/sideways.heic', import.meta.url)),
  ];
}

async function fuzzPhotos(rounds: number, random: () => number, report: FuzzReport) {
  const seeds = await seedPhotos();
  const worker = new URL('./decode-worker.ts', import.meta.url);
  const pool = new ReadingPool({ workers: 2, secondsPerPhoto: LIMIT_SECONDS, worker });
  let slowestMs = 0;
  const one = async (round: number, bytes: Buffer) => {
    const outcome = await pool.read({
      photo: { bytes: new Uint8Array(bytes) },
      request: { face: 'auto', hand: 'right', scoring: 'as-printed', preferredMrad: [0, 0] },
      sizes: {},
    });
    const code = outcome.ok ? 'read' : outcome.error.code;
    slowestMs = Math.max(slowestMs, outcome.elapsedMs);
    count(report.photos, code);
    if (['internal', 'worker-died', 'took-too-long'].includes(code)) {
      report.findings.push(`photo ${round}: ${code}`);
      const kept = process.env['ENDWISE_FUZZ_KEEP'];
      if (kept !== undefined) writeFileSync(join(kept, `photo-${round}`), bytes);
    }
  };
  for (let round = 0; round < rounds; round += 16) {
    const batch = Array.from({ length: Math.min(16, rounds - round) }, (_, i) =>
      one(round + i, mutate(pick(seeds, random), pick(seeds, random), random)),
    );
    await Promise.all(batch);
  }
  await pool.close();
  return slowestMs;
}

const MANIFEST = Buffer.from(
  'photo,before,face,shaft_mm,fletched,bare,hand,distance_m,archer\n' +
    '"a, b.jpg",c.jpg,wa80,5.5,3,2,left,30,Ilka\nd.jpg,,auto,,,,,,\n',
);

async function fuzzManifests(
  rounds: number,
  random: () => number,
  folder: string,
  report: FuzzReport,
): Promise<void> {
  const path = join(folder, 'manifest.csv');
  for (let round = 0; round < rounds; round++) {
    writeFileSync(path, mutate(MANIFEST, MANIFEST, random));
    try {
      await readManifest(path);
      count(report.manifests, 'taken');
    } catch (error) {
      if (error instanceof ManifestError) count(report.manifests, 'refused');
      else report.findings.push(`manifest ${round}: ${String(error)}`);
    }
  }
}

async function fuzzArchives(
  rounds: number,
  random: () => number,
  folder: string,
  report: FuzzReport,
): Promise<void> {
  const seeds = await seedPhotos();
  const whole = Buffer.from(
    zipSync({
      'Ilka/1.jpg': seeds[0]!,
      'manifest.csv': MANIFEST,
      'notes.txt': Buffer.from('words'),
      'within.zip': zipSync({ '1.jpg': seeds[0]! }),
    }),
  );
  const path = join(folder, 'evening.zip');
  for (let round = 0; round < rounds; round++) {
    writeFileSync(path, mutate(whole, seeds[3]!, random));
    const into = mkdtempSync(join(folder, 'unpacked-'));
    try {
      await gatherZip(path, into);
      count(report.archives, 'taken');
    } catch (error) {
      if (error instanceof GatherError) count(report.archives, 'refused');
      else report.findings.push(`archive ${round}: ${String(error)}`);
    }
    rmSync(into, { recursive: true, force: true });
  }
}

/** Half have damaged bytes, half are sound archives of records that make no sense. */
async function fuzzLogs(
  rounds: number,
  random: () => number,
  folder: string,
  report: FuzzReport,
): Promise<void> {
  const [full, empty] = [join(folder, 'full'), join(folder, 'empty')];
  const whole = join(folder, 'whole.zip');
  const log = await Log.open(full);
  await fillSample(log);
  await log.putEnd(sampleEnd('ilka', 1), (await seedPhotos())[0]);
  await log.putEnd(sampleEnd('tomas', 1));
  await exportLog(log, whole);
  await log.close();
  const bytes = readFileSync(whole);
  const files = unzipSync(bytes);
  const records: unknown = JSON.parse(Buffer.from(files[ARCHIVE_ENTRY]!).toString());
  const into = await Log.open(empty);
  const path = join(folder, 'log.zip');
  for (let round = 0; round < rounds; round++) {
    const strange = () => Buffer.from(JSON.stringify(mutateJson(records, random)));
    writeFileSync(
      path,
      random() < 0.5
        ? mutate(bytes, bytes, random)
        : zipSync({ ...files, [ARCHIVE_ENTRY]: strange() }, { level: 1 }),
    );
    try {
      const said = await takeArchiveIn(into, path);
      count(report.logs, 'taken');
      const ends = await into.ends();
      if (ends.length !== said.ends) report.findings.push(`log ${round}: ${said.ends} ends said`);
      for (const { id } of await into.archers()) await into.deleteArcher(id);
    } catch (error) {
      if (error instanceof LogError) count(report.logs, 'refused');
      else report.findings.push(`log ${round}: ${String(error)}`);
      if ((await into.archers()).length > 0) report.findings.push(`log ${round}: left something`);
    }
  }
  if (readdirSync(into.photoFolder!.folder).length > 0)
    report.findings.push('photos of nobody are left');
  await into.close();
}

function rawRequest(method: string, path: string, type: string, body: Buffer): Buffer {
  const head =
    `${method} ${path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: ${type}\r\n` +
    `Content-Length: ${body.length}\r\nConnection: close\r\n\r\n`;
  return Buffer.concat([Buffer.from(head), body]);
}

async function fuzzRequests(
  rounds: number,
  random: () => number,
  folder: string,
  report: FuzzReport,
): Promise<void> {
  const uploadFolder = join(folder, 'uploads');
  mkdirSync(uploadFolder);
  const log = await Log.open(join(folder, 'log'));
  await fillSample(log);
  await log.putEnd(sampleEnd('ilka', 1));
  const pool = new ReadingPool({
    workers: 1,
    worker: new URL('./decode-worker.ts', import.meta.url),
  });
  const app = appOfTests({
    pool,
    uploadFolder,
    log,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  const form =
    '--xx\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\nGIF89a\r\n' +
    '--xx\r\nContent-Disposition: form-data; name="request"\r\n\r\n{"face":"wa80"}\r\n--xx--\r\n';
  const whole = await log.everything();
  const end = sampleEnd('ilka', 1);
  const marks = end.arrows.map(({ mm, kind }) => ({ mm, kind }));
  const endForm =
    `--xx\r\nContent-Disposition: form-data; name="end"\r\n\r\n${JSON.stringify(end)}\r\n` +
    '--xx\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\nGIF89a\r\n--xx--\r\n';
  const multipart = 'multipart/form-data; boundary=xx';
  const json = (method: string, path: string, value: unknown) =>
    [method, path, 'application/json', JSON.stringify(value)] as const;
  const get = (path: string) => ['GET', path, 'text/plain', ''] as const;
  const seeds = [
    ['POST', '/api/readings', multipart, form],
    ['PUT', '/api/log/ends/ilka-end-1', multipart, endForm],
    ['POST', '/api/log/import', multipart, form],
    ['POST', '/api/pair', 'application/x-www-form-urlencoded', 'code=ABCD-EFGH'],
    json('POST', '/api/pair', { code: 'ABCD-EFGH' }),
    json('POST', '/api/offset', { hand: 'right', distanceM: 30, marks }),
    json('PUT', '/api/log/ends/ilka-end-1', end),
    json(
      'PUT',
      '/api/log/archers/ilka',
      whole.archers.find(({ id }) => id === 'ilka'),
    ),
    json(
      'PUT',
      '/api/log/bows/ilka-bow',
      whole.bows.find(({ id }) => id === 'ilka-bow'),
    ),
    json(
      'PUT',
      '/api/log/set-ups/ilka-first',
      whole.setUps.find(({ id }) => id === 'ilka-first'),
    ),
    json('PUT', '/api/log/sessions/ilka-evening', whole.sessions[0]),
    json('DELETE', '/api/log/ends/ilka-end-9', {}),
    json('DELETE', '/api/log/archers/nobody', {}),
    json('DELETE', '/api/devices/nobody', {}),
    ...['archers', 'bows', 'set-ups', 'sessions', 'ends', 'ends.csv', 'arrows.csv', 'export'].map(
      (name) => get(`/api/log/${name}`),
    ),
    get('/api/log/ends/ilka-end-1/photo?x[__proto__]=1'),
    get('/api/log/bows/ilka-bow/reading?setUp=ilka-first'),
    get('/api/devices'),
    get('/api/rights'),
    get('/api/coaches'),
    get('/api/trail?before=9&archer=ilka'),
    json('PUT', '/api/coaches/marta', { id: 'marta', name: 'Marta Quell', archerIds: ['ilka'] }),
    json('DELETE', '/api/coaches/nobody', {}),
    json('POST', '/api/pairing-codes', { archer: 'ilka', label: 'phone' }),
    get('/api/health'),
    get('/pair?code=ABCD-EFGH'),
    get('/api/%E0%A4%A/%00'),
  ] as const;
  // Half of the damage is done to what is sent inside a sound request: it gets further.
  const damaged = () => {
    const [method, path, type, body] = pick(seeds, random);
    const other = Buffer.from(pick(seeds, random)[3]);
    if (type === 'application/json' && random() < 0.6) {
      // Sound JSON of things that make no sense gets furthest.
      const strange = JSON.stringify(mutateJson(JSON.parse(body), random));
      return rawRequest(method, path, type, Buffer.from(strange));
    }
    return random() < 0.5
      ? rawRequest(method, path, type, mutate(Buffer.from(body), other, random))
      : mutate(rawRequest(method, path, type, Buffer.from(body)), other, random);
  };
  for (let round = 0; round < rounds; round++) {
    const bytes = damaged();
    const answer = await send(server.port, bytes);
    const status = /^HTTP\/1\.1 (\d{3})/.exec(answer ?? '')?.[1] ?? 'none';
    count(report.requests, answer === null ? 'hung' : status);
    if (answer === null) report.findings.push(`request ${round}: no answer in time`);
    if (status === '500') report.findings.push(`request ${round}: 500`);
    if (/\n\s+at .*[:(]\d+/.test(answer ?? '')) report.findings.push(`request ${round}: stack`);
  }
  const health = await fetch(new URL('/api/health', server.url));
  if (health.status !== 200) report.findings.push('the server is not well any more');
  if (!(await log.isSound())) report.findings.push('the log is not sound');
  if ((await log.archers()).length < 2) report.findings.push('the log lost archers');
  await server.close();
  await pool.close();
  await log.close();
}

/** What came back before the connection closed; null when it took too long. */
function send(port: number, bytes: Buffer): Promise<string | null> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    let answer = '';
    // Half a request is a slow client: it hangs up after a moment, as clients do.
    const patience = setTimeout(() => socket.end(), 400);
    const limit = setTimeout(() => {
      socket.destroy();
      resolve(null);
    }, LIMIT_SECONDS * 1000);
    const done = () => {
      clearTimeout(patience);
      clearTimeout(limit);
      resolve(answer);
    };
    socket.on('data', (chunk) => (answer += chunk.toString('latin1')));
    socket.on('error', done);
    socket.on('close', done);
    socket.write(bytes);
  });
}
