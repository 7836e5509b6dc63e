import { execFile } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { rasterise } from '../../../server/picture/rasterise.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const folder = temporaryFolder();
const DRAWING =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><text y="15">Ab</text></svg>';

describe('rasterise', () => {
  it('paints three pixels for a unit', async () => {
    const { width, height, format } = await sharp(await rasterise(DRAWING)).metadata();
    expect([width, height, format]).toEqual([120, 60, 'png']);
  });

  it('says so on a machine without a font rather than write boxes', async () => {
    const fonts = join(folder, 'fonts.conf');
    const nothing = join(folder, 'no-fonts');
    writeFileSync(fonts, `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>${nothing}</dir><cachedir>${folder}</cachedir></fontconfig>`); // prettier-ignore
    const script = join(folder, 'paint.mjs');
    const module = new URL('../../../server/picture/rasterise.ts', import.meta.url).href;
    writeFileSync(script, `const { rasterise } = await import(${JSON.stringify(module)});
await rasterise(${JSON.stringify(DRAWING)}).then(() => console.log('painted'), (error) => console.log(error.message));`); // prettier-ignore
    const { stdout } = await promisify(execFile)(
      process.execPath,
      ['--import', import.meta.resolve('tsx'), script],
      { env: { ...process.env, FONTCONFIG_FILE: fonts } },
    );
    expect(stdout).toMatch(/^There is no font on this machine to write with: install one/);
  });
});
