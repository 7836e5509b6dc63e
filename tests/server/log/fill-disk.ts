import { readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { exportLog } from '../../../server/log/export-log.ts';
import { importLog } from '../../../server/log/import-log.ts';
import { Log } from '../../../server/log/log.ts';
import { LogError } from '../../../server/log/log-error.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

/** On a small disk of its own: keeps until it is full, then frees some room. Says what happened. */
const disk = process.argv[2]!;
const ballast = join(disk, 'ballast');
const data = join(disk, 'data');
const photosIn = (folder: string) => readdirSync(join(folder, 'photos'));
const codes = new Set<string>();
const messages = new Set<string>();

async function refused(work: () => Promise<unknown>): Promise<boolean> {
  try {
    await work();
    return false;
  } catch (error) {
    if (!(error instanceof LogError)) throw error;
    codes.add(error.code);
    messages.add(error.message);
    return true;
  }
}

const photo = (seed: number) =>
  sharp({
    create: {
      width: 220,
      height: 220,
      channels: 3,
      background: 'black',
      noise: { type: 'gaussian', mean: 100 + seed, sigma: 40 },
    },
  })
    .png()
    .toBuffer();

/** To the last page. */
function fillUp(): void {
  for (let bytes = 65_536; bytes >= 4096;) {
    try {
      writeFileSync(ballast, Buffer.alloc(bytes), { flag: 'a' });
    } catch {
      bytes /= 2;
    }
  }
}

const log = await Log.open(data);
await fillSample(log);
await log.putEnd(sampleEnd('ilka', 0), await photo(0));
const archive = join(disk, 'whole.zip');
await exportLog(log, archive);
writeFileSync(ballast, Buffer.alloc(300_000));

const kept: number[] = [0];
const refusals = { typed: 0, withPhoto: 0 };
for (let number = 1; refusals.withPhoto < 3; number++) {
  const bytes = await photo(number);
  if (await refused(() => log.putEnd(sampleEnd('ilka', number), bytes))) refusals.withPhoto++;
  else kept.push(number);
}
for (let number = 1000; refusals.typed < 3; number++) {
  const end = sampleEnd('ilka', number, { notes: 'wind '.repeat(700) });
  if (await refused(() => log.putEnd(end))) refusals.typed++;
  else kept.push(number);
}
const photos = photosIn(data).length;
const tornExport = await refused(() => exportLog(log, join(disk, 'torn.zip')));
rmSync(ballast);
const empty = await Log.open(join(disk, 'empty'));
fillUp();
const tornImport = await refused(() => importLog(empty, archive));
const leftOfImport = [(await empty.archers()).length, photosIn(join(disk, 'empty')).length];
rmSync(ballast);
const keptOnceThereIsRoom = !(await refused(() => log.putEnd(sampleEnd('ilka', 5000))));
kept.push(5000);
const there = (await log.ends()).map(({ id }) => Number(id.split('-').at(-1)));
process.stdout.write(
  JSON.stringify({
    codes: [...codes],
    messages: [...messages],
    lost: kept.filter((number) => !there.includes(number)).length,
    unknown: there.filter((number) => !kept.includes(number)).length,
    photosWithoutEnd: photos - (await log.ends()).filter((end) => end.photo !== null).length,
    tornExport,
    tornImport,
    leftOfImport,
    keptOnceThereIsRoom,
    sound: await log.isSound(),
    files: readdirSync(disk).sort(),
  }),
);
await Promise.all([log.close(), empty.close()]);
