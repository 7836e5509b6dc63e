import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import type { FromReader, ToReader } from '../../web/reader/messages.ts';
import { readingRequestSchema } from '../../src/request/request.ts';
import { DESK, sharedBrowser, testImage, visit } from './browser.ts';

const ISOLATING = new Set(['cross-origin-opener-policy', 'cross-origin-embedder-policy']);

const url = inject('pageUrl');
const vision = fileURLToPath(new URL('../../dist/web/vision/', import.meta.url));
const script = readdirSync(vision).find((name) => name.startsWith('reader.worker-'))!;
const base64 = readFileSync(testImage('fresh-02.jpg')).toString('base64');
const request = readingRequestSchema.parse({ face: 'wa80', shaftMm: 5.5 });

/** Where the reader of a page finds the marks of a photo, mm. */
function marksOn(page: Page): Promise<(readonly [number, number])[]> {
  return page.evaluate(
    async ({ address, photoBase64, about }) => {
      const reader = new Worker(address, { type: 'module' });
      // A worker that nothing refers to is taken for rubbish while it reads.
      Object.assign(globalThis, { reader });
      const photo = await (await fetch(`data:image/jpeg;base64,${photoBase64}`)).blob();
      const done = new Promise<Extract<FromReader, { type: 'done' }>>((resolve, reject) => {
        reader.onerror = () => reject(new Error('The reader could not be loaded.'));
        reader.onmessage = ({ data }: MessageEvent<FromReader>) => {
          if (data.type === 'done') resolve(data);
          if (data.type === 'failed') reject(new Error(data.message));
        };
      });
      reader.postMessage({
        type: 'read',
        photo,
        before: null,
        also: null,
        focalPx: null,
        request: about,
        byHand: null,
        pick: null,
        sizes: {},
      } satisfies ToReader);
      const { reading } = await done;
      reader.terminate();
      return reading.marks.map(({ mm }) => mm);
    },
    {
      address: new URL(`vision/${script}`, url).href,
      photoBase64: base64,
      about: request,
    },
  );
}

it('finds the same marks with threads, and without where the page cannot be isolated', async () => {
  const browser = await sharedBrowser();
  const found = [];
  for (const isolated of [true, false]) {
    const { context, page, complaints } = await visit(browser, url, DESK);
    if (!isolated) {
      // As a web space answers where nobody has set these headers.
      await page.route(`${url}**`, async (route) => {
        const response = await route.fetch();
        const headers = Object.entries(response.headers()).filter(([name]) => !ISOLATING.has(name));
        await route.fulfill({ response, headers: Object.fromEntries(headers) });
      });
      await page.reload();
    }
    expect(await page.evaluate(() => crossOriginIsolated)).toBe(isolated);
    found.push(await marksOn(page));
    expect(complaints).toEqual([]);
    await context.close();
  }
  const [threaded, alone] = found as [[number, number][], [number, number][]];
  expect(threaded).toHaveLength(6);
  expect(alone).toHaveLength(6);
  threaded.forEach(([x, y], i) => {
    expect(Math.hypot(x - alone[i]![0], y - alone[i]![1])).toBeLessThan(0.1);
  });
});

it('has read a drawn face before a photo is chosen', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), url, DESK);
  const choosing = page.waitForEvent('filechooser');
  await page.getByText('Choose photos').click();
  await choosing;
  // Those of the networks' threads never answer.
  const rehearsed = () =>
    page
      .workers()
      .find((worker) => worker.url().includes('reader.worker'))
      ?.evaluate(() => performance.getEntriesByName('rehearsed').length);
  await expect.poll(rehearsed, { timeout: 120_000 }).toBe(1);
  expect(complaints).toEqual([]);
  await context.close();
});
