import { expect, inject, it } from 'vitest';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';

const url = inject('pageUrl');
const ABOUT = { face: 'wa80', shaftMm: 8.1, distanceM: 50 };

it('speaks the language that is chosen at once, and after the page is loaded anew', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  expect(await page.locator('html').getAttribute('lang')).toBe('en');
  await page.getByLabel('Language').selectOption('fr');
  await page.getByRole('heading', { name: 'Photographiez le blason.' }).waitFor();
  expect(await page.locator('html').getAttribute('lang')).toBe('fr');
  await page.reload();
  await page.getByRole('heading', { name: 'Photographiez le blason.' }).waitFor();
  await page.getByLabel('Langue').selectOption('device');
  await page.getByRole('heading', { name: 'Photograph the face.' }).waitFor();
  await context.close();
});

it('speaks English where the browser asks for a language that it does not have', async () => {
  const dutch = { ...PHONE, locale: 'nl-NL' };
  const { context, page } = await visit(await sharedBrowser(), url, dutch, ABOUT);
  await page.getByRole('heading', { name: 'Photograph the face.' }).waitFor();
  expect(await page.locator('html').getAttribute('lang')).toBe('en');
  // Passed on from a system whose names of languages are not the browser's.
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'languages', { get: () => ['en-US@posix'] });
  });
  await page.reload();
  await page.getByRole('heading', { name: 'Photograph the face.' }).waitFor();
  await context.close();
});

it('goes on in the language it has where the texts of another cannot be fetched', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await page.route('**/german-*.js', (route) => route.abort());
  await page.getByLabel('Language').selectOption('de');
  await page.getByText('This language could not be fetched').waitFor();
  await page.getByRole('heading', { name: 'Photograph the face.' }).waitFor();
  await context.close();
});

it('says in the language of now what was read and kept in another', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await openReading(page, 'fresh-02', (reading) => ({
    ...reading,
    warnings: ['5 arrows shot, 4 found: one may be hidden or have missed the face.'],
    fit: { ...reading.fit, notes: ['Part of the rings lies outside the photo.'] },
  }));
  await page.getByText('Part of the rings lies outside the photo.').waitFor();
  await page.evaluate(() => localStorage.setItem('endwise.language', '"de"'));
  await page.reload();
  await page.getByText('Ein Teil der Ringe liegt außerhalb des Fotos.').waitFor();
  await page
    .getByText('5 Pfeile geschossen, 4 gefunden: Einer kann verdeckt sein oder die Auflage')
    .waitFor();
  await context.close();
});

it('writes lengths and distances in the units that are chosen', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await page.getByLabel('Lengths on the face and the bow').selectOption('in');
  await page.getByLabel('Shooting distances').selectOption('yd');
  await page.getByText('54.7 yd').first().waitFor();
  await page.locator('.home details.about > summary').click();
  const distance = page.getByLabel('Distance, yd');
  await distance.fill('20');
  await distance.blur();
  await page.getByText('20 yd').first().waitFor();
  const kept = await page.evaluate(() => localStorage.getItem('endwise.settings'));
  expect((JSON.parse(kept!) as { distanceM: number }).distanceM).toBeCloseTo(18.288, 6);
  await page.getByRole('button', { name: 'More: Distance' }).click();
  expect(await distance.inputValue()).toBe('21');
  await openReading(page, 'fresh-02');
  await goToStep(page, 'Verdict');
  const verdict = await page.locator('.panel-verdict').innerText();
  expect(verdict).toContain('in below');
  expect(verdict).toContain('at 21 yd');
  expect(verdict).toContain('plate: 10.6 in at 32.8 yd');
  expect(verdict).not.toMatch(/\d (mm|m)\b/);
  await context.close();
});

it('says what a term means where it stands, one tap away', async () => {
  const { context, page } = await visit(await sharedBrowser(), url, PHONE, ABOUT);
  await openReading(page, 'fresh-02');
  await goToStep(page, 'Verdict');
  for (const [term, meaning] of [
    ['plate', 'The plate is a circle'],
    ['dead zone', 'The dead zone is'],
    ['milliradian', 'A milliradian (mrad) is an angle'],
  ] as const) {
    const ask = page.getByRole('button', { name: `What is that: ${term}?` });
    await ask.press('Enter');
    expect(await ask.getAttribute('aria-expanded')).toBe('true');
    await page.getByRole('note').filter({ hasText: meaning }).waitFor();
    await ask.press('Enter');
    expect(await page.getByRole('note').count()).toBe(0);
  }
  await context.close();
});
