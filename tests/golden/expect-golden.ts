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
 * written next to it as NAME.changed.png, to be looked at; UPDATE_GOLDEN=1 takes it over.
 */
export function expectGolden(png: Uint8Array, name: string, options: GoldenOptions = {}): void {
  const { threshold = 0.15, share = 0.005 } = options;
  const path = fileURLToPath(new URL(`./${name}.png`, import.meta.url));
  const changed = path.replace(/\.png$/, '.changed.png');
  mkdirSync(dirname(path), { recursive: true });
  if (process.env.UPDATE_GOLDEN === '1') {
    writeFileSync(path, png);
    rmSync(changed, { force: true });
    return;
  }
  const got = PNG.sync.read(Buffer.from(png));
  let different = Infinity;
  if (existsSync(path)) {
    const golden = PNG.sync.read(readFileSync(path));
    if (golden.width === got.width && golden.height === got.height) {
      const { width, height, data } = golden;
      different =
        pixelmatch(data, got.data, undefined, width, height, { threshold }) / (width * height);
    }
  }
  if (different > share) writeFileSync(changed, png);
  else rmSync(changed, { force: true });
  expect(different, `${name}: share of different pixels, see ${changed}`).toBeLessThanOrEqual(
    share,
  );
}
