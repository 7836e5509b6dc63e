import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import express from 'express';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, it, onTestFinished } from 'vitest';
import { listen } from '../../server/http/listen.ts';
import type { FromReader, ToReader } from '../../web/reader/messages.ts';
import { readingRequestSchema } from '../../src/request/request.ts';
import { DESK, sharedBrowser, testImage, visit, type Opened } from './browser.ts';

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
      address: new URL(`vision/${script}`, page.url()).href,
      photoBase64: base64,
      about: request,
    },
  );
}

// What was loaded once stays loaded.
let isolated: Opened;
beforeAll(async () => {
  isolated = await visit(await sharedBrowser(), url, DESK);
});
afterAll(() => isolated.context.close());

it('has read a drawn face before a photo is chosen', async () => {
  const { page, complaints } = isolated;
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
});

it('finds the same marks with threads, and without where the page cannot be isolated', async () => {
  // A web space answers with no headers of ours.
  const files = fileURLToPath(new URL('../../dist/web/', import.meta.url));
  const space = await listen(express().use(express.static(files)), { host: '127.0.0.1', port: 0 });
  onTestFinished(() => space.close());
  const plain = await visit(await sharedBrowser(), space.url, DESK);
  const found = [];
  for (const [{ page, complaints }, isIsolated] of [
    [isolated, true],
    [plain, false],
  ] as const) {
    expect(await page.evaluate(() => crossOriginIsolated)).toBe(isIsolated);
    found.push(await marksOn(page));
    // The page asks for a log, which a web space does not have.
    const unasked = complaints.filter((one) => isIsolated || !one.includes('404'));
    expect(unasked).toEqual([]);
  }
  await plain.context.close();
  const [threaded, alone] = found as [[number, number][], [number, number][]];
  expect(threaded).toHaveLength(6);
  expect(alone).toHaveLength(6);
  threaded.forEach(([x, y], i) => {
    expect(Math.hypot(x - alone[i]![0], y - alone[i]![1])).toBeLessThan(0.1);
  });
});
