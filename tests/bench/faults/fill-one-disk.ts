import { readdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { exportLog } from '../../../server/log/export-log.ts';
import { Log } from '../../../server/log/log.ts';
import { LogError } from '../../../server/log/log-error.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { random as seeded } from '../../groups/random.ts';
import { fillSample, sampleEnd } from '../../server/log/sample-log.ts';

/** On a small disk of its own: fills it at random moments and tells what was lost. */
const [disk, moments, seed] = process.argv.slice(2) as [string, string, string];
const random = seeded(Number(seed)).uniform;
const ballast = join(disk, 'ballast');
const refused: Record<string, number> = {};
const findings: string[] = [];
let kept = 0;

for (let moment = 0; moment < Number(moments); moment++) {
  try {
    await once(moment);
  } catch (error) {
    findings.push(`moment ${moment}: ${error instanceof Error ? error.stack : String(error)}`);
  }
  for (const name of readdirSync(disk)) rmSync(join(disk, name), { recursive: true, force: true });
}
process.stdout.write(JSON.stringify({ moments: Number(moments), refused, kept, findings }));
process.exit();

async function once(moment: number): Promise<void> {
  const data = join(disk, 'data');
  const log = await Log.open(data);
  await fillSample(log);
  const said = new Set<number>();
  const keep = async (number: number, photo?: Uint8Array) => {
    const notes = 'wind '.repeat(Math.floor(random() * 600));
    await log.putEnd(sampleEnd('ilka', number, { notes }), photo);
    said.add(number);
  };
  for (let number = 0; number < 3; number++) await keep(number, await picture());
  const archive = join(disk, 'whole.zip');
  await exportLog(log, archive);
  leaveFree(Math.floor(random() * 150_000));

  const works: Record<string, () => Promise<unknown>> = {
    typed: () => keep(1000 + said.size),
    photo: async () => keep(1000 + said.size, await picture()),
    export: () => exportLog(log, join(disk, 'again.zip')),
    import: () => importInto(join(disk, `empty-${said.size}`), archive),
    'new log': async () => (await Log.open(join(disk, `new-${said.size}`))).close(),
    delete: () => log.deleteEnd(`ilka-end-${[...said][0]}`).then(() => said.delete([...said][0]!)),
  };
  const names = Object.keys(works);
  for (let tries = 0; tries < 400; tries++) {
    const name = names[Math.floor(random() * names.length)]!;
    if (name === 'delete' && said.size < 2) continue;
    try {
      await works[name]!();
    } catch (error) {
      if (!(error instanceof LogError) || error.code !== 'disk-full') throw error;
      refused[name] = (refused[name] ?? 0) + 1;
      if (name !== 'delete') break;
    }
  }
  const there = new Set((await log.ends()).map(({ id }) => Number(id.split('-').at(-1))));
  for (const number of said) if (!there.has(number)) findings.push(`${moment}: ${number} is lost`);
  for (const number of there) if (!said.has(number)) findings.push(`${moment}: ${number} unsaid`);
  for (const { photo } of await log.ends()) if (photo) await log.photos.readSound(photo);
  if (!(await log.isSound())) findings.push(`${moment}: not sound`);
  rmSync(ballast, { force: true });
  await keep(5000);
  kept += said.size;
  await log.close();
}

/** An import that is refused leaves its log empty. */
async function importInto(folder: string, archive: string): Promise<void> {
  const empty = await Log.open(folder);
  try {
    await takeArchiveIn(empty, archive);
  } catch (error) {
    if ((await empty.archers()).length > 0) findings.push('a refused import left something');
    throw error;
  } finally {
    await empty.close();
  }
}

function picture(): Promise<Uint8Array> {
  const noise = { type: 'gaussian' as const, mean: 60 + random() * 100, sigma: 30 };
  return sharp({
    create: { width: 150, height: 150, channels: 3, background: 'black', noise },
  })
    .png()
    .toBuffer();
}

function leaveFree(bytes: number): void {
  const { bavail, bsize } = statfsSync(disk);
  writeFileSync(ballast, Buffer.alloc(Math.max(0, bavail * bsize - bytes)));
}
