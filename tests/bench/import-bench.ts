import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zipSync, strToU8 } from 'fflate';
import sharp from 'sharp';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { listen } from '../../server/http/listen.ts';
import { ARCHIVE_ENTRY } from '../../src/tuning/record/archive.ts';
import { Log } from '../../server/log/log.ts';
import { sha256 } from '../../server/log/photo-store.ts';
import { fillSample, sampleEnd } from '../server/log/sample-log.ts';
import { quantile } from '../measure/quantile.ts';

const ENDS = 20_000;
const PHOTOS = 300;
const ASK_EVERY_MS = 10;

/** How soon the server answers while it takes a large archive in. */
export async function importBench(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-import-'));
  const uploadFolder = join(folder, 'uploads');
  mkdirSync(uploadFolder);
  const path = join(folder, 'large.zip');
  writeFileSync(path, await largeArchive(folder));
  const log = await Log.open(join(folder, 'log'));
  const app = appOfTests({
    uploadFolder,
    log,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  const answers: number[] = [];
  let asking = true;
  const ask = async () => {
    while (asking) {
      const start = performance.now();
      await (await fetch(new URL('/api/health', server.url))).text();
      answers.push(performance.now() - start);
      await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS));
    }
  };
  const asked = ask();
  const start = performance.now();
  const form = new FormData();
  const { openAsBlob } = await import('node:fs');
  form.append('archive', await openAsBlob(path));
  const taken = await fetch(new URL('/api/log/import', server.url), { method: 'POST', body: form });
  const said = await taken.text();
  const seconds = (performance.now() - start) / 1000;
  asking = false;
  await asked;
  console.log(
    `import of ${ENDS} ends, ${PHOTOS} photos: ${taken.status} ${said}, ${seconds.toFixed(1)} s`,
  );
  console.log(
    `/health meanwhile, ${answers.length} times: median ${quantile(answers, 0.5).toFixed(0)}, ` +
      `p99 ${quantile(answers, 0.99).toFixed(0)}, worst ${Math.max(...answers).toFixed(0)} ms`,
  );
  if (taken.status !== 200) process.exitCode = 1;
  await server.close();
  await log.close();
  rmSync(folder, { recursive: true });
}

async function largeArchive(folder: string): Promise<Uint8Array> {
  const sample = await Log.open(join(folder, 'sample'));
  await fillSample(sample);
  const records = await sample.everything();
  await sample.close();
  const files: Record<string, Uint8Array> = {};
  const places: { file: string; sha256: string }[] = [];
  for (let i = 0; i < PHOTOS; i++) {
    const photo = await sharp({
      create: {
        width: 800,
        height: 600,
        channels: 3,
        background: 'black',
        noise: { type: 'gaussian', mean: 128, sigma: 30 },
      },
    })
      .jpeg()
      .toBuffer();
    const file = `00000000-0000-0000-0000-${String(i).padStart(12, '0')}.jpg`;
    files[`photos/${file}`] = photo;
    places.push({ file, sha256: sha256(photo) });
  }
  const ends = Array.from({ length: ENDS }, (_, i) => ({
    ...sampleEnd('ilka', i),
    photo: places[i] ?? null,
    sourceSha256: null,
  }));
  const about = { format: 'endwise-log', version: 1, exportedAt: new Date().toISOString() };
  const text = JSON.stringify({ ...about, ...records, ends });
  return zipSync({ [ARCHIVE_ENTRY]: strToU8(text), ...files }, { level: 0 });
}
