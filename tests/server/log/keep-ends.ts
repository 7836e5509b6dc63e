import sharp from 'sharp';
import { Log } from '../../../server/log/log.ts';
import { sampleEnd } from './sample-log.ts';

/** Keeps ends with photos until it is killed; says each one's id once the log has said it is kept. */
const [folder, first] = process.argv.slice(2) as [string, string];
const log = await Log.open(folder);
for (let number = Number(first); ; number++) {
  const colour = { r: number % 256, g: Math.floor(number / 256), b: 9 };
  const photo = await sharp({ create: { width: 64, height: 48, channels: 3, background: colour } })
    .png()
    .toBuffer();
  await log.putEnd(sampleEnd('ilka', number), photo);
  process.stdout.write(`${number}\n`);
}
