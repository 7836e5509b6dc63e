import type { Browser } from 'playwright-core';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { readingSchema } from '../../src/reading/reading.ts';
import { DESK, dragByTouch, moveFingers, PHONE, sharedBrowser, visit } from './browser.ts';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { goToStep, openReading, placeOf, placesOnScreen, showWholeFace } from './open-reading.ts';
import { resetSent, stored } from './stored.ts';

const url = inject('pageUrl');
const ABOUT = { face: 'wa80', shaftMm: 8.1, distanceM: 50, fletched: 3, bare: 2 };

let browser: Browser;
beforeAll(async () => {
  browser = await sharedBrowser();
});

describe('correcting an end', () => {
  it('by touch on a phone: drag, undo, add, remove, tag, verdict, keep', async () => {
    const { context, page, complaints } = await visit(browser, url, PHONE, ABOUT);
    await openReading(page, 'fresh-02');
    const total = () => page.locator('.score-total strong').textContent().then(Number);
    const marks = page.locator('[data-mark]');
    await expect.poll(total).toBe(40);
    await expect.poll(() => marks.count()).toBe(5);

    // The 4 of the bare shaft m4 goes to the black ring's outside: a finger moves it 60 px out.
    const cdp = await context.newCDPSession(page);
    const from = await placeOf(page, 'm4');
    await dragByTouch(cdp, from, { x: from.x, y: from.y + 60 });
    const moved = async () => {
      const to = await placeOf(page, 'm4');
      return [Math.round(to.x - from.x), Math.round(to.y - from.y)];
    };
    await expect.poll(moved).toEqual([0, 60]);
    await expect.poll(total).toBeLessThan(40);
    await expect.poll(() => marks.count()).toBe(5);

    // One drag is one step of the history.
    const undo = page.getByRole('toolbar').getByRole('button', { name: 'Undo' });
    await undo.tap();
    await expect.poll(total).toBe(40);
    await expect.poll(moved).toEqual([0, 0]);
    await expect.poll(() => undo.isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Redo' }).tap();
    await expect.poll(moved).toEqual([0, 60]);
    await expect.poll(total).toBeLessThan(40);
    await undo.tap();
    await expect.poll(total).toBe(40);

    // A tap right after a swift drag counts: the browser must not take it for the end of a fling.
    const button = (await undo.boundingBox())!;
    await dragByTouch(cdp, from, { x: from.x, y: from.y + 60 });
    await page.touchscreen.tap(button.x + button.width / 2, button.y + button.height / 2);
    await expect.poll(() => page.getByRole('button', { name: 'Redo' }).isEnabled()).toBe(true);
    await expect.poll(moved).toEqual([0, 0]);
    await expect.poll(total).toBe(40);

    // A tap on the face adds a mark, and removing it brings the score back.
    const beside = await placeOf(page, 'm1');
    await page.touchscreen.tap(beside.x - 90, beside.y - 20);
    await expect.poll(() => marks.count()).toBe(6);
    await expect.poll(total).toBeGreaterThan(40);
    await page.getByRole('button', { name: 'Remove' }).tap();
    await expect.poll(() => marks.count()).toBe(5);
    await expect.poll(total).toBe(40);

    // Tags change by a tap; the plot follows.
    await goToStep(page, 'Tag');
    const bare = page.locator('.mark-bare[data-mark]');
    await expect.poll(() => bare.count()).toBe(2);
    const m1 = await placeOf(page, 'm1');
    await page.touchscreen.tap(m1.x, m1.y);
    await expect.poll(() => bare.count()).toBe(1);
    await page.touchscreen.tap(m1.x, m1.y);
    await expect.poll(() => bare.count()).toBe(2);

    await goToStep(page, 'Verdict');
    await expect.poll(() => page.locator('.verdict-head').textContent()).toMatch(/Bare shafts low/);
    await expect
      .poll(() => page.locator('.advice-action').first().textContent())
      .toMatch(/nocking point/i);
    await expect.poll(() => page.locator('.cautions li').count()).toBeGreaterThan(0);
    await expect.poll(() => page.locator('.plot .region').count()).toBe(1);

    await goToStep(page, 'Keep');
    await page.locator('.panel-keep .button.primary').tap();
    await expect
      .poll(() => page.locator('.end-card').textContent())
      .toMatch(/40.*Juna Feldweg.*low/);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('puts an added mark on what shows near the tap, and back by Undo', async () => {
    const { context, page } = await visit(browser, url, PHONE, ABOUT);
    // A reader that did not count the bare shaft m4, but saw that something is there, too little to show it.
    await openReading(page, 'fresh-02', (reading) => {
      const missed = reading.marks.find((mark) => mark.id === 'm4')!;
      const { spot, mm, px } = missed;
      return {
        ...reading,
        marks: reading.marks.filter((mark) => mark !== missed),
        uncounted: [{ spot, mm, px: px!, sdMm: 0.7, probability: 0.1 }],
      };
    });
    const count = () => page.locator('[data-mark]').count();
    await expect.poll(count).toBe(4);
    const { marks } = readingOfTruth('fresh-02').reading;
    await showWholeFace(page);
    const onScreen = await placesOnScreen(page);
    const truth = onScreen(marks.find(({ id }) => id === 'm4')!.px!);
    const fromTruth = async () => {
      const { x, y } = await placeOf(page, 'p5');
      return [Math.round(x - truth.x) + 0, Math.round(y - truth.y) + 0];
    };

    await page.touchscreen.tap(truth.x + 7, truth.y - 5);
    await expect.poll(count).toBe(5);
    await expect.poll(fromTruth).toEqual([0, 0]);
    await expect.poll(() => page.locator('.selected').textContent()).toContain('±0.7 mm');
    await page.getByRole('button', { name: 'Put it where I pointed' }).tap();
    await expect.poll(fromTruth).toEqual([7, -5]);
    await page.getByRole('button', { name: 'Redo' }).tap();
    await expect.poll(fromTruth).toEqual([0, 0]);
    const undo = page.getByRole('toolbar').getByRole('button', { name: 'Undo' });
    await undo.tap();
    await undo.tap();
    await expect.poll(count).toBe(4);

    // Away from anything that shows, it stays where the finger was.
    await page.touchscreen.tap(truth.x + 60, truth.y - 5);
    await expect.poll(count).toBe(5);
    await expect.poll(fromTruth).toEqual([60, -5]);

    // A swipe over what is said of the mark wipes it away.
    const panel = (await page.locator('.selected').boundingBox())!;
    const y = panel.y + panel.height / 3;
    await dragByTouch(await context.newCDPSession(page), { x: 300, y }, { x: 120, y });
    await expect.poll(count).toBe(4);
    await context.close();
  });

  it('zooms about two fingers, about the wheel, and never moves a mark by it', async () => {
    const { context, page } = await visit(browser, url, PHONE, ABOUT);
    await openReading(page, 'fresh-02');
    await showWholeFace(page);
    const cdp = await context.newCDPSession(page);
    const ids = ['m1', 'm2', 'm3', 'm4', 'm5'];
    const places = () => Promise.all(ids.map((id) => placeOf(page, id)));
    const before = await places();

    // The first finger comes down on a mark: what began as its drag must not stay one.
    const first = before[3]!;
    const second = { x: first.x - 60, y: first.y - 80 };
    const middle = { x: (first.x + second.x) / 2, y: (first.y + second.y) / 2 };
    const out = ({ x, y }: typeof first) => ({
      x: middle.x + 2 * (x - middle.x),
      y: middle.y + 2 * (y - middle.y),
    });
    await moveFingers(cdp, [
      { from: first, to: out(first) },
      { from: second, to: out(second) },
    ]);
    const off = async () => {
      const after = await places();
      return Math.max(
        ...after.map(({ x, y }, i) => Math.hypot(x - out(before[i]!).x, y - out(before[i]!).y)),
      );
    };
    await expect.poll(off).toBeLessThan(2);
    expect(await page.getByRole('toolbar').getByRole('button', { name: 'Undo' }).isDisabled()).toBe(
      true,
    );

    // The wheel keeps what lies under the pointer where it is.
    const zoomed = await places();
    const still = zoomed[0]!;
    await page.mouse.move(still.x, still.y);
    await page.mouse.wheel(0, 400);
    const spread = (at: readonly { x: number; y: number }[]) =>
      Math.hypot(at[3]!.x - at[0]!.x, at[3]!.y - at[0]!.y);
    await expect.poll(async () => spread(await places())).toBeLessThan(0.7 * spread(zoomed));
    const kept = (await places())[0]!;
    expect(Math.hypot(kept.x - still.x, kept.y - still.y)).toBeLessThan(2);
    await context.close();
  });

  it('reads another face of the photo that is tapped, asking first when work would be lost', async () => {
    const { context, page } = await visit(browser, url, PHONE, ABOUT);
    let centrePx: [number, number] = [0, 0];
    await openReading(page, 'fresh-02', (reading) => {
      const own = reading.fit.spots[0]!;
      const reach = Math.max(
        ...own.rings.flatMap((ring) => ring.px.map(([x]) => x - own.centrePx[0])),
      );
      centrePx = [own.centrePx[0] + 0.9 * reach, own.centrePx[1] - 0.9 * reach];
      return {
        ...reading,
        faces: [
          { centrePx: own.centrePx, radiusPx: reach },
          { centrePx, radiusPx: 0.25 * reach },
        ],
      };
    });
    await page.locator('[data-mark=m1]').focus();
    await page.keyboard.press('Delete');
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(4);
    await showWholeFace(page);
    const { x, y } = (await placesOnScreen(page))(centrePx);
    await page.touchscreen.tap(x, y);
    // It stays under way until it is stopped: what reads it never arrives.
    await page.route('**/vision/**', () => undefined);
    await page.getByRole('button', { name: 'Read it' }).tap();
    await page.locator('.working').waitFor();
    await page.getByRole('button', { name: 'Cancel' }).tap();
    await page.getByRole('heading', { name: 'Stopped' }).waitFor();
    await context.close();
  });

  it('keeps up with the finger: everything follows a move by the next frame', async () => {
    const { context, page } = await visit(browser, url, PHONE, ABOUT);
    await openReading(page, 'fresh-02');
    const at = await placeOf(page, 'm4');
    const frames = await page.evaluate(async ({ x, y }) => {
      const stage = document.querySelector<HTMLElement>('.stage')!;
      // The browser knows no pointer of that id to capture.
      stage.setPointerCapture = () => {};
      const fire = (type: string, dx: number) =>
        stage.dispatchEvent(
          new PointerEvent(type, {
            bubbles: true,
            pointerId: 7,
            pointerType: 'touch',
            clientX: x + dx,
            clientY: y,
          }),
        );
      const places = () => document.querySelector('[data-mark=m4]')!.getAttribute('transform');
      const frames: number[] = [];
      fire('pointerdown', 0);
      for (let i = 1; i <= 30; i++) {
        const before = places();
        fire('pointermove', 6 + i);
        let passed = 0;
        for (; places() === before; passed++) await new Promise(requestAnimationFrame);
        frames.push(passed);
        await new Promise(requestAnimationFrame);
      }
      fire('pointerup', 36);
      return frames;
    }, at);
    expect(Math.max(...frames)).toBeLessThanOrEqual(1);
    await context.close();
  });

  it('with the keyboard alone on a desktop', async () => {
    const { context, page, complaints } = await visit(browser, url, DESK, ABOUT);
    await openReading(page, 'fresh-02');
    const focused = () =>
      page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');
    const tabTo = async (words: RegExp) => {
      for (let i = 0; i < 80; i++) {
        if (words.test(await focused())) return;
        const left = await page.evaluateHandle(() => document.activeElement);
        await page.keyboard.press('Tab');
        await page.waitForFunction((element) => document.activeElement !== element, left);
      }
      throw new Error(`No way by Tab to ${String(words)}`);
    };
    await tabTo(/^Mark 1: bare, value 7/);
    await page.keyboard.press('f');
    await expect.poll(focused).toMatch(/^Mark 1: fletched/);
    await page.keyboard.press('b');
    for (let i = 0; i < 8; i++) await page.keyboard.press('Shift+ArrowUp');
    await expect.poll(focused).toMatch(/^Mark 1: bare, value (8|9)/);
    const high = await focused();
    await page.keyboard.press('Control+z');
    await expect.poll(focused).not.toBe(high);
    await page.keyboard.press('Control+Shift+z');
    await expect.poll(focused).toBe(high);
    await page.keyboard.press('Delete');
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(4);
    await page.keyboard.press('Control+z');
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(5);
    for (const step of ['Verdict', 'Keep']) {
      await page.locator('.steps').getByRole('button', { name: step }).focus();
      await page.keyboard.press('Enter');
    }
    await expect.poll(() => page.locator('.verdict-head').textContent()).toMatch(/Bare shafts/);
    await page.locator('.panel-keep .button.primary').focus();
    await page.keyboard.press('Enter');
    await page.locator('.end-card > a').focus();
    await page.keyboard.press('Enter');
    await page.locator('[data-mark]').first().waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('survives a reload in the middle, in two tabs that do not disturb each other', async () => {
    const { context, page } = await visit(browser, url, DESK, ABOUT);
    await openReading(page, 'fresh-02');
    await page.locator('[data-mark=m1]').focus();
    await page.keyboard.press('Delete');
    await expect.poll(() => page.locator('.score-total strong').textContent()).toBe('33');
    const drafts = () => stored<{ marks: unknown[] }>(page, 'drafts');
    await expect.poll(async () => (await drafts()).map((draft) => draft.marks.length)).toEqual([4]);

    const other = await context.newPage();
    await other.goto(url);
    await openReading(other, 'fresh-06');
    await expect.poll(() => other.locator('[data-mark]').count()).toBe(6);

    await page.reload();
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(4);
    await expect.poll(() => page.locator('.score-total strong').textContent()).toBe('33');

    // What this tab left unfinished is offered on its first page; what another tab holds is not,
    // until that tab is gone.
    const offered = other.locator('.left-behind li');
    await other.goto(`${url}#/`);
    await other.reload();
    await expect.poll(() => offered.count()).toBe(1);
    await page.close();
    await other.reload();
    await expect.poll(() => offered.count()).toBe(2);
    await context.close();
  });

  it('hands what was kept to the log of the server, once', async () => {
    const { context, page, complaints } = await visit(browser, url, DESK, {
      ...ABOUT,
      archer: 'Mila Anders',
    });
    await openReading(page, 'fresh-02');
    await page.getByLabel('Place').fill('Heathside ground');
    await page.getByLabel('Wind').fill('light from the left');
    await page.locator('.panel-keep .button.primary').click();
    await page.getByRole('radio', { name: 'ends and photos' }).check({ force: true });
    const inTheLog = page.getByText('Everything kept here is in the log');
    await inTheLog.waitFor();
    const logged = async () => {
      const ends = (await (await fetch(`${url}api/log/ends`)).json()) as {
        sessionId: string;
        arrows: { zone: number }[];
        photo: { file: string } | null;
      }[];
      return ends.filter((end) => end.sessionId.startsWith('mila-anders'));
    };
    await expect.poll(logged).toHaveLength(1);
    const sent = async () =>
      (await stored<{ sentRevision: number }>(page, 'ends')).map((end) => end.sentRevision);
    await expect.poll(sent).toEqual([1]);
    const [end] = await logged();
    expect(end!.arrows.map((arrow) => arrow.zone).sort()).toEqual([10, 10, 4, 7, 9]);
    expect(end!.photo).not.toBeNull();
    const sessions = (await (await fetch(`${url}api/log/sessions`)).json()) as { id: string }[];
    expect(sessions.find(({ id }) => id === end!.sessionId)).toMatchObject({
      place: 'Heathside ground',
      setting: 'outdoor',
      wind: 'light from the left',
    });

    // As after a crash between sending and noting it: the end goes out again and is the same end.
    await resetSent(page);
    await expect.poll(sent).toEqual([0]);
    await page.reload();
    await expect.poll(sent).toEqual([1]);
    await inTheLog.waitFor();
    expect(await logged()).toHaveLength(1);

    // The next end knows what was said of this one.
    await page.goto(`${url}#/`);
    await openReading(page, 'fresh-06');
    await expect.poll(() => page.getByLabel('Place').inputValue()).toBe('Heathside ground');
    await expect.poll(() => page.getByLabel('Wind').inputValue()).toBe('light from the left');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('hands the corrected reading out as JSON and as a picture', async () => {
    const { context, page } = await visit(browser, url, DESK, ABOUT);
    await openReading(page, 'fresh-02');
    await page.locator('[data-mark=m1]').focus();
    await page.keyboard.press('Delete');
    await expect.poll(() => page.locator('[data-mark]').count()).toBe(4);
    const file = async (name: RegExp) => {
      const waiting = page.waitForEvent('download');
      await page.getByRole('button', { name }).click();
      return readFileSync(await (await waiting).path());
    };
    const json = await file(/Reading as JSON/);
    const reading = readingSchema.parse(JSON.parse(json.toString('utf8')));
    expect(reading.score).toMatchObject({ total: 33, inners: 0, arrows: 4 });
    expect(reading.groups?.bare?.n).toBe(1);
    const picture = await file(/Picture/);
    expect([...picture.subarray(0, 2)]).toEqual([0xff, 0xd8]);
    expect(picture.length).toBeGreaterThan(100_000);
    await context.close();
  });
});
