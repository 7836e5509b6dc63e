import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import type { BrowserContext, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { dragByTouch, PHONE, sharedBrowser, testImage, visit } from './browser.ts';
import { goToStep, placeOf } from './open-reading.ts';

const url = inject('pageUrl');
/** Loading the vision module and reading take seconds on an idle machine, minutes on a busy one. */
const PATIENT = { timeout: 240_000 };
const SLOW = 300_000;

let context: BrowserContext;
let page: Page;
let complaints: string[];

// One visitor for all: what was loaded once stays loaded.
beforeAll(async () => {
  ({ context, page, complaints } = await visit(
    await sharedBrowser(),
    url,
    {
      ...PHONE,
      serviceWorkers: 'allow',
    },
    { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 },
  ));
});
afterAll(() => context.close());

const choose = (...files: Parameters<Locator['setInputFiles']>) =>
  page.locator('input[type=file][multiple]').setInputFiles(...files);
function shrunk(name: string): Promise<Buffer> {
  return sharp(testImage(name)).resize({ width: 1200 }).jpeg({ quality: 90 }).toBuffer();
}

/** A photo of two faces that hang side by side. */
async function sideBySide(...names: [string, string]): Promise<Buffer> {
  const [left, right] = await Promise.all(
    names.map((name) => sharp(testImage(name)).resize({ width: 1000 }).toBuffer()),
  );
  return sharp(left)
    .extend({ right: 1000 })
    .composite([{ input: right!, left: 1000, top: 0 }])
    .jpeg({ quality: 90 })
    .toBuffer();
}
const marks = () => page.locator('[data-mark]');

describe('reading photos in the browser', { timeout: SLOW }, () => {
  it('reads three photos chosen at once; one is corrected by touch, tagged and judged', async () => {
    // The first one is looked at closely; the others come as a messenger shrinks them.
    await choose([
      { name: '1.jpg', mimeType: 'image/jpeg', buffer: readFileSync(testImage('fresh-02.jpg')) },
      { name: '2.jpg', mimeType: 'image/jpeg', buffer: await shrunk('fresh-06.jpg') },
      { name: '3.jpg', mimeType: 'image/jpeg', buffer: await shrunk('fresh-04.jpg') },
    ]);
    const photos = page.locator('.queue button');
    await expect.poll(() => photos.count()).toBe(3);
    await expect.poll(() => page.locator('.queue [data-status=read]').count(), PATIENT).toBe(3);

    await photos.first().tap();
    await marks().first().waitFor();
    // Three tight fletched holes in the yellow and two bare shafts low.
    await expect.poll(() => marks().count()).toBeGreaterThanOrEqual(4);
    await expect
      .poll(async () => Number(await page.locator('.score-total strong').textContent()))
      .toBeGreaterThanOrEqual(34);

    const cdp = await context.newCDPSession(page);
    const id = (await marks().first().getAttribute('data-mark'))!;
    const from = await placeOf(page, id);
    await dragByTouch(cdp, from, { x: from.x + 40, y: from.y });
    const moved = async () => Math.round((await placeOf(page, id)).x - from.x);
    await expect.poll(moved).toBe(40);
    await page.getByRole('toolbar').getByRole('button', { name: 'Undo' }).tap();
    await expect.poll(moved).toBe(0);

    await goToStep(page, 'Tag');
    const { x, y } = await placeOf(page, id);
    const bare = page.locator(`.mark-bare[data-mark="${id}"]`);
    const before = await bare.count();
    await page.touchscreen.tap(x, y);
    await expect.poll(() => bare.count()).toBe(1 - before);
    await page.touchscreen.tap(x, y);
    await expect.poll(() => bare.count()).toBe(before);
    // Holes have no vanes, so which are bare is asked; the lower two are the likeliest.
    await goToStep(page, 'Verdict');
    await page.locator('.which-bare-answers button').first().tap();
    await expect.poll(() => page.locator('.which-bare').count()).toBe(0);
    await expect.poll(() => page.locator('.verdict-head').textContent()).toMatch(/low/);
    expect(complaints).toEqual([]);
  });

  it('takes a face placed by hand', async () => {
    await goToStep(page, 'Look');
    await page.locator('.panel-look .about summary').tap();
    await page.getByRole('button', { name: 'Place the face by hand' }).tap();
    await expect.poll(() => page.locator('.place').count()).toBe(3);
    await page.getByRole('button', { name: 'Read with this' }).tap();
    await page.locator('.working').waitFor();
    await marks().first().waitFor(PATIENT);
  });

  it('joins a second view of the end, and refuses one of another end', async () => {
    await goToStep(page, 'Look');
    const add = page.locator('.panel-look').getByText('Add another view of this end');
    const upload = add.locator('input[type=file]');
    const count = await marks().count();
    const other = await shrunk('fresh-06.jpg');
    await upload.setInputFiles({ name: 'other.jpg', mimeType: 'image/jpeg', buffer: other });
    await page.getByText(/second photo/).waitFor(PATIENT);
    await expect.poll(() => marks().count()).toBe(count);

    const turned = await sharp(await shrunk('fresh-02.jpg'))
      .rotate(4)
      .jpeg()
      .toBuffer();
    await upload.setInputFiles({ name: 'again.jpg', mimeType: 'image/jpeg', buffer: turned });
    await page.getByText('Read from two photos of this end, joined.').waitFor(PATIENT);
    await expect.poll(() => marks().count()).toBeGreaterThanOrEqual(count);
    await page.getByRole('button', { name: 'Leave the second one out' }).tap();
    await add.waitFor(PATIENT);
    await expect.poll(() => marks().count()).toBe(count);
  });

  it('says what is wrong with a file, and stops when told to', async () => {
    await page.goto(`${url}#/`);
    await choose({
      name: 'notes.jpg',
      mimeType: 'image/jpeg',
      buffer: Buffer.from('no picture at all'),
    });
    const problem = page.getByRole('alert');
    await problem.waitFor(PATIENT);
    await expect.poll(() => problem.textContent()).toMatch(/not a photo/);
    await page.getByRole('button', { name: 'Take another photo' }).tap();

    const meadow = sharp({
      create: { width: 900, height: 1200, channels: 3, background: '#5d7f3b' },
    });
    await choose({
      name: 'meadow.jpg',
      mimeType: 'image/jpeg',
      buffer: await meadow.jpeg().toBuffer(),
    });
    await problem.waitFor(PATIENT);
    await expect.poll(() => problem.textContent()).toMatch(/No target face was found/);
    await page.getByRole('button', { name: 'Place the face by hand' }).tap();
    await page.getByRole('button', { name: 'Back' }).tap();
    await page.getByRole('button', { name: 'Take another photo' }).tap();

    // A photo as phones take them, which this browser cannot open by itself; it shows no face.
    await choose(testImage('../tests/server/decode/sideways.heic'));
    await problem.waitFor(PATIENT);
    await expect.poll(() => problem.textContent()).toMatch(/No target face was found/);
    const shown = page.locator('.stage-photo');
    await expect
      .poll(() => shown.evaluate((image) => (image as HTMLImageElement).naturalWidth))
      .toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Take another photo' }).tap();

    // Pressed by the page itself: on a busy machine a reading may be done before a tap arrives.
    await page.evaluate(() => {
      new MutationObserver((_changes, observer) => {
        const cancel = [...document.querySelectorAll('button')].find(
          ({ textContent }) => textContent === 'Cancel',
        );
        if (!cancel) return;
        observer.disconnect();
        cancel.click();
      }).observe(document.body, { childList: true, subtree: true });
    });
    await choose(testImage('fresh-07.jpg'));
    await page.getByRole('heading', { name: 'Stopped' }).waitFor();
    await page.getByRole('button', { name: 'Take another photo' }).tap();
  });

  it('works without signal after the first visit, and keeps what was kept', async () => {
    await page.goto(url);
    await page.getByText('Also reads photos without signal.').waitFor(PATIENT);
    await context.setOffline(true);
    await page.reload();
    await choose({
      name: 'two-faces.jpg',
      mimeType: 'image/jpeg',
      buffer: await sideBySide('fresh-02.jpg', 'fresh-06.jpg'),
    });
    await page.locator('.score').waitFor(PATIENT);
    await marks().first().waitFor();

    // Two faces hang side by side: the other one can be read instead.
    const middles = () => marks().evaluateAll((all) => all.map((mark) => mark.ariaLabel).join());
    const one = await middles();
    await page.getByRole('button', { name: 'Read the face on the left' }).tap();
    await expect.poll(middles, PATIENT).not.toBe(one);
    await page.getByRole('button', { name: 'Read the face on the right' }).waitFor(PATIENT);
    await marks().first().waitFor();
    await goToStep(page, 'Keep');
    await page.locator('.panel-keep .button.primary').tap();
    await page.goto(`${url}#/kept`);
    await page.locator('.end-card').waitFor();
    await page.reload();
    await page.locator('.end-card').waitFor();
  });
});
