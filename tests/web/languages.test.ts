import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import { FRENCH } from '../../src/words/french.ts';
import { GERMAN } from '../../src/words/german.ts';
import { wordsOf, type FullCatalogue, type Words } from '../../src/words/words.ts';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { openReading } from './open-reading.ts';

const url = inject('pageUrl');

/** English that is no word of German or French, and in every longer sentence. */
const ENGLISH_WORDS =
  /(?<!\p{L})(the|and|with|this|your|you|nothing|from|what|which|arrows?|shafts?|shot|ends?|marks?|high|low|left|right|not|of)(?!\p{L})/iu;

const CASES = [
  { name: 'German', locale: 'de-DE', language: 'de', catalogue: GERMAN, size: [390, 844] },
  { name: 'German', locale: 'de-DE', language: 'de', catalogue: GERMAN, size: [320, 640] },
  { name: 'German', locale: 'de-DE', language: 'de', catalogue: GERMAN, size: [844, 390] },
  { name: 'French', locale: 'fr-FR', language: 'fr', catalogue: FRENCH, size: [390, 844] },
  { name: 'French', locale: 'fr-FR', language: 'fr', catalogue: FRENCH, size: [320, 640] },
  { name: 'French', locale: 'fr-FR', language: 'fr', catalogue: FRENCH, size: [844, 390] },
] as const satisfies readonly {
  readonly catalogue: FullCatalogue;
  readonly [other: string]: unknown;
}[];

it.each(CASES)(
  'speaks $name on every screen of a phone of $size.0 px, and fits it',
  { timeout: 240_000 },
  async ({ locale, language, catalogue, size: [width, height] }) => {
    const words = wordsOf({ language, catalogue });
    const phone = { ...PHONE, viewport: { width, height }, locale };
    const said = { face: 'wa80', shaftMm: 8.1, distanceM: 50, archer: 'Juna Feldweg' };
    const opened = await visit(await sharedBrowser(), url, phone, said);
    const { context, page, complaints } = opened;
    const found: Record<string, Found> = {};
    const violations: string[] = [];
    await walk(page, words, async (screen) => {
      found[screen] = await look(page);
      // What a screen is made of does not depend on its size.
      if (width === 320) violations.push(...(await objections(page, screen)));
    });
    expect(await page.locator('html').getAttribute('lang')).toBe(language);
    const bad = Object.entries(found).filter(
      ([, { over, english }]) => over > 0 || english.length > 0,
    );
    expect(bad).toEqual([]);
    expect(violations).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  },
);

/** Every screen of the page, by what is written on it. */
async function walk(
  page: Page,
  { say, count }: Words,
  see: (screen: string) => Promise<void>,
): Promise<void> {
  const button = (name: string) => page.getByRole('button', { name, exact: true });
  const step = async (name: string, screen: string) => {
    await page.locator('.steps').getByRole('button', { name }).click();
    await page.locator('.steps [aria-current=step]', { hasText: name }).waitFor();
    await see(screen);
  };
  await see('home');
  await openReading(page, 'fresh-02');
  await page.locator('.panel-look details.about > summary').click();
  await see('look');
  await page.locator('[data-mark]').first().focus();
  await see('mark');
  await step(say('Tag#step'), 'tag');
  await step(say('Verdict'), 'verdict');
  await step(say('Keep#step'), 'keep');
  await page.locator('.panel-keep .button.primary').tap();
  await page.locator('.end-card').waitFor();
  await see('kept');
  await page.locator('.end-card-actions button').tap();
  await page.getByText(count(1, '', 'Deleted: {n} ends')).tap();
  await see('deleted');
  await page.locator('.deleted-ends button').tap();
  await page.goto(`${url}#/trends`);
  await page.locator('.trend-plot svg').first().waitFor();
  await see('trends');
  await page.goto(`${url}#/set-ups`);
  await page.getByLabel(say('Name of the bow')).fill('Blau');
  await see('new-bow');
  await button(say('Add the bow')).tap();
  await button(say('Write down how it is set')).tap();
  await page.locator('.set-up-form').waitFor();
  // By keyboard: what a finger would have to scroll to lies under the buttons that stay in sight.
  const more = (what: string) => button(say('More: {what}', { what })).press('Enter');
  await more(say('Brace height'));
  await more(say('{name}, lines that show', { name: say('Plunger') }));
  await page.getByLabel(say('medium#spring'), { exact: true }).press(' ');
  await see('set-up-form');
  await button(say('Write it down')).tap();
  await button(say('Pack for a journey')).tap();
  await see('journey');
  await button(say('Close')).tap();
  await button(say('How to get back to it')).tap();
  await see('restore');
  await page.goto(`${url}#/evening`);
  await page.locator('h1').waitFor();
  await see('evening');
  await page.goto(`${url}#/end/gone`);
  await page.locator('.empty').waitFor();
  await see('gone');
}

interface Found {
  /** How far something reaches beyond the page or its box, CSS px. */
  readonly over: number;
  /** What is written or read out in English. */
  readonly english: readonly string[];
}

async function look(page: Page): Promise<Found> {
  // Letters that stand in until they are here are wider.
  await page.evaluate(() => document.fonts.ready);
  const { texts, over } = await page.evaluate(() => {
    const texts: string[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const parent = walker.currentNode.parentElement!;
      if (!parent.closest('script, style, noscript, option, select, [lang]:not(html)')) {
        texts.push(walker.currentNode.textContent ?? '');
      }
    }
    for (const name of ['aria-label', 'placeholder', 'title']) {
      for (const element of document.querySelectorAll(`[${name}]`)) {
        texts.push(element.getAttribute(name)!);
      }
    }
    // The side of an end scrolls by itself; what lies in a button may reach beyond it.
    const boxes = document.querySelectorAll('.end-side, .steps, .steps button, .tag-row button');
    const over = [document.documentElement, ...boxes].map(
      ({ scrollWidth, clientWidth }) => scrollWidth - clientWidth,
    );
    return { texts, over: Math.max(...over) };
  });
  return { over, english: [...new Set(texts.filter((text) => ENGLISH_WORDS.test(text)))] };
}

/** What axe-core objects to on a screen. */
async function objections(page: Page, screen: string): Promise<string[]> {
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(() =>
    (window as unknown as { axe: typeof axe }).axe.run(),
  );
  return violations.map(({ id, nodes }) => `${screen}, ${id}: ${nodes[0]!.html.slice(0, 120)}`);
}
