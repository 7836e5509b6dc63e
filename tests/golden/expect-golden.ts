import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { expect } from 'vitest';

export interface GoldenOptions {
  /** Colour distance that counts as different, 0 to 1. @default 0.15 */
  readonly threshold?: number;
  /** Share of pixels that may differ (fonts and anti-aliasing vary between builds). @default 0.005 */
  readonly share?: number;
}

/**
 * Compares a picture with the one of that name beside this file. A picture that has changed is
 * written next to it as NAME.changed.png, to be looked at, with what differs in red as
 * NAME.difference.changed.png; UPDATE_GOLDEN=1 takes it over. A golden picture that is missing, or
 * of another size, counts as wholly different.
 */
export function expectGolden(png: Uint8Array, name: string, options: GoldenOptions = {}): void {
  const { threshold = 0.15, share = 0.005 } = options;
  const path = fileURLToPath(new URL(`./${name}.png`, import.meta.url));
  const changed = path.replace(/\.png$/, '.changed.png');
  const difference = path.replace(/\.png$/, '.difference.changed.png');
  mkdirSync(dirname(path), { recursive: true });
  if (process.env.UPDATE_GOLDEN === '1') {
    writeFileSync(path, png);
    for (const file of [changed, difference]) rmSync(file, { force: true });
    return;
  }
  const got = PNG.sync.read(Buffer.from(png));
  let different = Infinity;
  let drawn: Buffer | undefined;
  if (existsSync(path)) {
    const golden = PNG.sync.read(readFileSync(path));
    if (golden.width === got.width && golden.height === got.height) {
      const { width, height, data } = golden;
      const shown = new PNG({ width, height });
      different =
        pixelmatch(data, got.data, shown.data, width, height, { threshold }) / (width * height);
      drawn = PNG.sync.write(shown);
    }
  }
  for (const file of [changed, difference]) rmSync(file, { force: true });
  if (different > share) {
    writeFileSync(changed, png);
    if (drawn) writeFileSync(difference, drawn);
  }
  expect(different, `${name}: share of different pixels, see ${changed}`).toBeLessThanOrEqual(
    share,
  );
}
