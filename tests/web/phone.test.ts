import sharp from 'sharp';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';
import { stored } from './stored.ts';

const url = inject('pageUrl');
const SAID = { face: 'wa80', shaftMm: 8.1, distanceM: 50 };
const sized = (width: number, height: number): BrowserContextOptions => ({
  ...PHONE,
  viewport: { width, height },
});

/** Buttons beside the header that a notice lies over, by their names. */
function underNotice(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const notice = document.querySelector('.notice p')!.getBoundingClientRect();
    return [...document.querySelectorAll('main button, main a.button, .steps button')]
      .filter((button) => {
        const box = button.getBoundingClientRect();
        const meets =
          box.left < notice.right &&
          notice.left < box.right &&
          box.top < notice.bottom &&
          notice.top < box.bottom;
        return box.width > 0 && meets;
      })
      .map((button) => button.textContent ?? '');
  });
}

const focused = (page: Page) =>
  page.evaluate(() => {
    const now = document.activeElement!;
    return now.getAttribute('data-mark') ?? now.className;
  });

it('keeps photo, marks and buttons in reach on small and sideways phones', async () => {
  for (const [width, height] of [
    [844, 390],
    [320, 640],
  ] as const) {
    const { context, page, complaints } = await visit(
      await sharedBrowser(),
      url,
      sized(width, height),
      SAID,
    );
    await openReading(page, 'fresh-02', (reading) => ({
      ...reading,
      marks: reading.marks.map((mark, i) => ({
        ...mark,
        age: i === 4 ? ('old' as const) : ('fresh' as const),
        ...(i === 1 && { mm: [40 + 4.05, 0] as [number, number] }),
      })),
    }));
    const photo = (await page.locator('.end-photo').boundingBox())!;
    const side = (await page.locator('.end-side').boundingBox())!;
    expect(photo.height).toBeGreaterThan(height * 0.4);
    expect(photo.width).toBeGreaterThan(width * 0.45);
    const isBeside = side.x >= photo.x + photo.width - 1;
    expect(isBeside).toBe(width > height);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);

    // What is said after a tap is over none of the buttons.
    await page.getByRole('button', { name: 'Add a mark' }).tap();
    await page.locator('.notice p').waitFor();
    expect(await underNotice(page)).toEqual([]);
    await page.getByRole('button', { name: 'Undo', exact: true }).first().tap();

    // Old marks go by one tap, and from the way of a keyboard.
    expect(await page.locator('[data-mark]').count()).toBeGreaterThanOrEqual(5);
    const before = await page.locator('.mark-old').count();
    expect(before).toBe(1);
    await page.getByRole('button', { name: 'Old (1)' }).tap();
    expect(await page.locator('.mark-old').count()).toBe(0);

    // The mark near a line is shown.
    await page.getByRole('button', { name: '1 near a line' }).tap();
    await page.locator('.line-call').waitFor();

    // A keyboard stays where it deletes.
    const marks = await page.locator('[data-mark]').evaluateAll((all) => all.map((mark) => (mark as SVGElement).dataset.mark)); // prettier-ignore
    await page.locator(`[data-mark="${marks[0]}"]`).focus();
    await page.keyboard.press('Delete');
    await expect.poll(() => focused(page)).toBe(marks[1]);
    await page.locator('.tag-row .remove').tap();
    expect(await focused(page)).toContain('panel');

    await goToStep(page, 'Keep');
    const keep = page.locator('.panel-keep > .primary');
    const box = (await keep.boundingBox())!;
    expect(box.y + box.height).toBeLessThanOrEqual(height);
    await keep.tap();
    await page.locator('.end-card').waitFor();
    await page.goto(`${url}#/trends`);
    await page.locator('.trend-plot svg').first().waitFor();
    for (const plot of await page.locator('.trend-plot').all()) {
      const wide = await plot.evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth);
      expect(wide).toBe(0);
    }
    const letters = page.locator('.trend-plot text').first();
    const px = await letters.evaluate((text) => {
      const drawing = (text as SVGTextElement).ownerSVGElement!;
      const scale = drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
      return scale * parseFloat(getComputedStyle(text).fontSize);
    });
    expect(px).toBeGreaterThanOrEqual(11.5);
    expect(complaints).toEqual([]);
    await context.close();
  }
});

it('clears photos that were not read, and kept ones that were only looked at, from the strip', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, SAID);
  await openReading(page, 'fresh-02');
  await goToStep(page, 'Keep');
  await page.locator('.panel-keep > .primary').tap();
  await page.locator('.end-card > a').tap();
  await page.locator('.verdict-head').waitFor();
  await page.goto(`${url}#/`);
  const empty = { mimeType: 'image/jpeg', buffer: Buffer.from('no photo') };
  await page.locator('input[type=file][multiple]').setInputFiles([
    { name: 'a.jpg', ...empty },
    { name: 'b.jpg', ...empty },
  ]);
  await page.getByRole('button', { name: 'Clear the 2 not read' }).waitFor();
  expect(await page.locator('.queue button:not(.queue-clear)').count()).toBe(2);
  await page.getByRole('button', { name: 'Clear the 2 not read' }).tap();
  await page.getByRole('heading', { name: /Photograph the face/ }).waitFor();
  await expect.poll(async () => (await stored(page, 'drafts')).length).toBe(0);
  expect((await stored(page, 'ends')).length).toBe(1);
  await context.close();
});

it('hands the picture of an end to the share sheet, with nothing of the photo’s own notes', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), url, PHONE, SAID);
  let shared: number[] | null = null;
  await page.exposeFunction('takeShared', (bytes: number[]) => {
    shared = bytes;
  });
  await page.evaluate(() => {
    Object.assign(navigator, {
      canShare: ({ files }: ShareData) => files?.[0]?.type === 'image/jpeg',
      share: async ({ files }: ShareData) => {
        const bytes = [...new Uint8Array(await files![0]!.arrayBuffer())];
        await (window as unknown as { takeShared: (all: number[]) => Promise<void> }).takeShared(
          bytes,
        );
      },
    });
  });
  await openReading(page, 'fresh-02');
  await goToStep(page, 'Keep');
  await page.getByRole('button', { name: 'Share the picture' }).tap();
  await expect.poll(() => shared !== null).toBe(true);
  const { width, height, format, exif } = await sharp(Buffer.from(shared!)).metadata();
  expect([width, height, format, exif]).toEqual([1080, 1640, 'jpeg', undefined]);
  expect(complaints).toEqual([]);
  await context.close();
});
