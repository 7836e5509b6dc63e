import { Log } from '../../../server/log/log.ts';
import { sampleEnd } from './sample-log.ts';

/** Keeps ends until it is killed; says each one's number once the log has said that it is kept. */
const [folder, first, what] = process.argv.slice(2) as [string, string, 'typed' | 'photos'];
const log = await Log.open(folder);
for (let number = Number(first); ; number++) {
  await log.putEnd(sampleEnd('ilka', number), what === 'typed' ? undefined : await photo(number));
  process.stdout.write(`${number}\n`);
}

async function photo(number: number): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  const background = { r: number % 256, g: Math.floor(number / 256), b: 9 };
  return sharp({ create: { width: 64, height: 48, channels: 3, background } })
    .png()
    .toBuffer();
}
