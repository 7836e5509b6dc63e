import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import type { Browser } from 'playwright-core';
import { PHONE, sharedBrowser } from './browser.ts';

const url = inject('pageUrl');

let browser: Browser;
beforeAll(async () => {
  browser = await sharedBrowser();
});

describe('the first visit', () => {
  it('loads less than 150 kB, compressed, before a photo is chosen', async () => {
    const context = await browser.newContext({ ...PHONE, serviceWorkers: 'block' });
    const page = await context.newPage();
    const sizes = new Map<string, Promise<number>>();
    page.on('response', (response) => {
      if (!response.ok()) return;
      // Fonts and pictures are compressed already; gzip leaves them as they are.
      sizes.set(
        response.url(),
        response.body().then((body) => gzipSync(body).length),
      );
    });
    await page.goto(url);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.waitForLoadState('networkidle');
    const loaded = await Promise.all(
      [...sizes].map(async ([address, size]) => [address, await size] as const),
    );
    expect(loaded.filter(([address]) => /\/vision\/|\.wasm|\.onnx/.test(address))).toEqual([]);
    expect(loaded.reduce((sum, [, size]) => sum + size, 0)).toBeLessThan(150_000);
    await context.close();
  });
});
