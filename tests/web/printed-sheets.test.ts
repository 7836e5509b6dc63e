import { expect, it } from 'vitest';
import { journeySheetParts, restoreSheetPage } from '../../src/drawing/restore-sheet-page.ts';
import { journeySheet } from '../../src/tuning/bow/journey-sheet.ts';
import { restoreSheet } from '../../src/tuning/bow/restore-sheet.ts';
import type { Bow, Setting, SetUp } from '../../src/tuning/bow/set-up.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import { FRENCH } from '../../src/words/french.ts';
import { GERMAN } from '../../src/words/german.ts';
import { ENGLISH, wordsOf } from '../../src/words/words.ts';
import { sharedBrowser } from './browser.ts';
import { pagesOf } from './pages-of.ts';

const bow: Bow = {
  id: 'bow',
  archerId: 'juna',
  name: 'Outdoor bow',
  hand: 'right',
  adjusters: standardAdjusters(),
  notes: '',
};

/** Everything that can be read has been. */
const setUp: SetUp = {
  id: 'set-up',
  bowId: 'bow',
  name: 'Winter hall',
  date: '2031-05-01T10:00:00Z',
  settings: Object.fromEntries(
    bow.adjusters.map(({ id, scale }): [string, Setting] => {
      if (scale.type === 'dial') return [id, { type: 'dial', line: 3, mark: 4 }];
      if (scale.type === 'choice') return [id, { type: 'choice', choice: scale.choices[1]! }];
      return [id, { type: 'number', value: scale.max! }];
    }),
  ),
  preferredMrad: [1, 1],
  notes: '',
};

it.each([
  ['English', ENGLISH],
  ['German', wordsOf({ language: 'de', catalogue: GERMAN })],
  ['French', wordsOf({ language: 'fr', catalogue: FRENCH })],
])('sheets for the bench fit one page of A5 in %s', async (_name, words) => {
  const page = await (await sharedBrowser()).newPage();
  const journey = journeySheetParts(journeySheet(bow, setUp, words), 'A5', words);
  for (const html of [
    restoreSheetPage(restoreSheet(bow, setUp, undefined, words), 'A5', words),
    `<body style="margin: 0"><style>${journey.style}</style>${journey.content}</body>`,
  ]) {
    await page.setContent(html);
    expect(pagesOf(await page.pdf({ preferCSSPageSize: true }))).toBe(1);
  }
  await page.close();
});
