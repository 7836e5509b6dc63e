import axe from 'axe-core';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import { spokenIn } from '../../src/words/spoken-in.ts';
import { wordsOf } from '../../src/words/words.ts';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { faultsOfLayout } from './faults-of-layout.ts';
import { walk } from './walk.ts';

const url = inject('pageUrl');
const SAID = {
  face: 'wa80',
  shaftMm: 8.1,
  distanceM: 50,
  archer: 'Juna Feldweg',
  place: 'Heathside',
};

/** English that is no word of German or French, and in every longer sentence. */
const ENGLISH_WORDS =
  /(?<!\p{L})(the|and|with|this|your|you|nothing|from|what|which|arrows?|shafts?|shot|ends?|marks?|high|low|left|right|not|of)(?!\p{L})/iu;

/** What was shown in English and held against all rules. */
const seen = new Set<string>();

type Size = readonly [width: number, height: number];
const PHONES: readonly [Size, Size, Size] = [
  [390, 844],
  [320, 640],
  [844, 390],
];
const DESK: Size = [1400, 900];
const DESKS: readonly [Size] = [DESK];
const SCREENS_TO = process.env['SCREENS_TO'];

// Longer words find too little room on small screens first.
const CASES = [
  ['English, phone', { language: 'en', sizes: PHONES, device: PHONE }],
  ['English, desktop', { language: 'en', sizes: DESKS, device: {} }],
  // Upright as on a phone, and as on a desktop: held sideways, French has the longer words.
  ['German', { language: 'de', sizes: [PHONES[0], PHONES[1], DESK], device: PHONE }],
  ['French, phone', { language: 'fr', sizes: PHONES, device: PHONE }],
] as const;

/**
 * Each screen once, and there at every size: nothing is cut off, covered or wider than the screen, axe-core
 * objects to nothing (in English, at the first size in both schemes), and no other language is read. With
 * SCREENS_TO set to a folder, every screen is put there as pictures in both schemes, to be looked at.
 */
it.each(CASES)(
  'is whole on every screen: %s',
  { timeout: 600_000 },
  async (_name, { language, device, sizes }) => {
    const [width, height] = sizes[0];
    const locale = { en: 'en-GB', de: 'de-DE', fr: 'fr-FR' }[language];
    const opened = await visit(
      await sharedBrowser(),
      url,
      { ...device, deviceScaleFactor: 1, viewport: { width, height }, locale },
      SAID,
    );
    const { context, page, complaints } = opened;
    const faults: string[] = [];
    await walk(page, url, wordsOf(await spokenIn(language)), async (screen) => {
      for (const [i, [width, height]] of sizes.entries()) {
        if (sizes.length > 1) await page.setViewportSize({ width, height });
        const found = await faultsOfLayout(page);
        // A screen is the same in every language but for its texts.
        if (language === 'en') {
          const shown = await shownElements(page);
          found.push(...(await objections(page, seen.has(shown) ? BY_LAYOUT : null)));
          seen.add(shown);
        }
        await picture(page, `${screen}-${language}-${width}-light`);
        if ((language === 'en' && i === 0) || SCREENS_TO) {
          await show(page, 'dark');
          // Schemes differ in colours alone.
          if (language === 'en' && i === 0) found.push(...(await objections(page, BY_COLOUR)));
          await picture(page, `${screen}-${language}-${width}-dark`);
          await show(page, 'light');
        }
        faults.push(...found.map((fault) => `${screen} at ${width}: ${fault}`));
      }
      if (language !== 'en') {
        faults.push(...(await writtenInEnglish(page)).map((text) => `${screen}: ${text}`));
      }
      if (sizes.length > 1) await page.setViewportSize({ width, height });
    });
    expect(faults).toEqual([]);
    // A file that is no photo is one of the screens.
    expect(complaints).toEqual([]);
    await context.close();
  },
);

/** The page of a server follows the device, the page itself its setting too. */
async function show(page: Page, scheme: 'light' | 'dark'): Promise<void> {
  await page.emulateMedia({ colorScheme: scheme });
}

/** Rules of axe-core whose outcome may change where the same elements lie otherwise. */
const BY_LAYOUT = ['color-contrast', 'scrollable-region-focusable'] as const;
const BY_COLOUR = ['color-contrast'] as const;

/** What axe-core objects to, by rule and place: by all its rules, or by some. */
async function objections(page: Page, rules: readonly string[] | null): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
  return page.evaluate(async (only) => {
    const { violations } = await (window as unknown as { axe: typeof axe }).axe.run(document, {
      resultTypes: ['violations'],
      ...(only && { runOnly: { type: 'rule', values: [...only] } }),
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, any }) => `${id}: ${html.slice(0, 120)} ${any[0]?.message ?? ''}`),
    );
  }, rules);
}

/** The elements that are seen, with all that a rule may ask of them but for where they lie. */
function shownElements(page: Page): Promise<string> {
  return page.evaluate(() => {
    const ofPlace = /^(style|transform|viewBox|width|height|d|points|[cr]?[xy][12]?|r)$/;
    const ids = /[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}/g;
    return [...document.querySelectorAll('*')]
      .filter((element) => element.checkVisibility({ visibilityProperty: true }))
      .map(({ localName, attributes, childNodes }) => {
        const said = [...attributes].filter(({ name }) => !ofPlace.test(name));
        const text = [...childNodes].map((node) => (node.nodeType === 3 ? node.nodeValue : ''));
        return [localName, ...said.map(({ name, value }) => `${name}=${value}`), ...text].join(' ');
      })
      .join('\n')
      .replace(ids, 'id');
  });
}

async function picture(page: Page, name: string): Promise<void> {
  if (!SCREENS_TO) return;
  await page.evaluate(() => document.fonts.ready);
  await page.screenshot({ path: join(SCREENS_TO, `${name}.png`), animations: 'disabled' });
}

/** What is written or read out in English. */
async function writtenInEnglish(page: Page): Promise<string[]> {
  const texts = await page.evaluate(() => {
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
    return texts;
  });
  return [...new Set(texts.filter((text) => ENGLISH_WORDS.test(text)))];
}
