import { chmodSync, chownSync, mkdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { Log } from '../../../server/log/log.ts';
import { LogError } from '../../../server/log/log-error.ts';
import { openQueue } from '../../../server/queue/open-queue.ts';
import { QueueReadings } from '../../../server/queue/queue-readings.ts';
import { readingJobSchema } from '../../../server/reading/reading-job.ts';
import { URGENCY } from '../../../server/reading/readings.ts';
import { startPostgres } from '../postgres/start-postgres.ts';
import { asked } from './engines.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

/** With the tables on a small disk of their own: keeps until it is full, then frees some room. */
const disk = process.argv[2]!;
const ballast = join(disk, 'ballast');
writeFileSync(ballast, Buffer.alloc(2_000_000));
const postgres = await startPostgres();
const space = join(disk, 'space');
mkdirSync(space);
const { uid, gid } = statSync(postgres.folder);
chownSync(space, uid, gid);
// On the way to it.
chmodSync(dirname(disk), 0o755);
await asked(postgres.url, `CREATE TABLESPACE small LOCATION '${space}'`);
await asked(postgres.url, 'CREATE DATABASE log TABLESPACE small');
const address = new URL(postgres.url);
address.pathname = '/log';

const log = await Log.open(address.href);
await fillSample(log);
const photo = (seed: number) =>
  sharp({
    create: {
      width: 700,
      height: 700,
      channels: 3,
      background: 'black',
      noise: { type: 'gaussian', mean: 100 + seed, sigma: 40 },
    },
  })
    .jpeg()
    .toBuffer();

// Photos that are handed in to be read, each larger than what is left when the next is refused.
const queue = await openQueue(address.href, { most: 2 });
const readings = new QueueReadings(queue.store, queue.news, { onClose: queue.close });
const handIn = async (seed: number) =>
  readings.submit({
    job: readingJobSchema.parse({ photo: { bytes: await photo(seed) }, request: {} }),
    by: { deviceId: null, archerId: null },
    urgency: URGENCY.asked,
  });
const handedIn: string[] = [];
while (handedIn.length < 3) handedIn.push(await handIn(handedIn.length));

const kept: number[] = [];
let refused: LogError | null = null;
for (let number = 0; refused === null; number++) {
  try {
    await log.putEnd(sampleEnd('ilka', number), await photo(number));
    kept.push(number);
  } catch (error) {
    if (!(error instanceof LogError)) throw error;
    refused = error;
  }
}
let queueRefused: unknown = null;
while (queueRefused === null) {
  await handIn(50 + handedIn.length).then(
    (id) => handedIn.push(id),
    (error: unknown) => {
      if (!(error instanceof LogError)) throw error;
      queueRefused = error.code;
    },
  );
}
let lost = 0;
for (const number of kept) {
  const end = await log.end(`ilka-end-${number}`).catch(() => null);
  const sound = end?.photo && (await log.photos.readSound(end.photo).catch(() => null));
  if (!sound) lost++;
}
const waitingWhenFull = (await readings.figures()).waiting;
rmSync(ballast);
const again = await log.putEnd(sampleEnd('ilka', 999), await photo(99)).then(
  () => true,
  () => false,
);
const orphans = await asked(address.href, 'SELECT file FROM photos WHERE end_id IS NULL');
const handedInAgain = await handIn(99).then(
  () => true,
  () => false,
);
const taken = new Set<string>();
for (let job = await queue.store.take(); job !== null; job = await queue.store.take()) {
  taken.add(job.id);
}
const lostOfQueue = handedIn.filter((id) => !taken.has(id));
await readings.close();
await log.close();
await postgres.stop();
process.stdout.write(
  JSON.stringify({
    code: refused.code,
    message: refused.message,
    lost,
    photosWithoutEnd: orphans.length,
    keptOnceThereIsRoom: again,
    queueRefused,
    unconfirmedInQueue: waitingWhenFull - handedIn.length,
    lostOfQueue,
    handedInOnceThereIsRoom: handedInAgain,
  }),
);
