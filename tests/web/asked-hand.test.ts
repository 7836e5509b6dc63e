import { expect, inject, it } from 'vitest';
import { PHONE, sharedBrowser, visit } from './browser.ts';
import { goToStep, openReading } from './open-reading.ts';

const UNSAID = { face: 'wa80', shaftMm: 8.1, distanceM: 50, hand: null };

it('asks which hand shot, and keeps no end before that is said', async () => {
  const { context, page, complaints } = await visit(await sharedBrowser(), inject('pageUrl'), PHONE, UNSAID); // prettier-ignore
  await openReading(page, 'fresh-02', (reading) => ({
    ...reading,
    // Far enough to the right to be sure of.
    marks: reading.marks.map((mark) => {
      const [x, y] = mark.mm;
      return { ...mark, mm: mark.kind === 'bare' ? [x + 200, y] : [x, y] };
    }),
  }));
  await goToStep(page, 'Keep');
  const keep = page.locator('.panel-keep > .primary');
  expect(await keep.isDisabled()).toBe(true);

  await goToStep(page, 'Verdict');
  const summary = page.locator('.verdict-summary');
  expect(await summary.textContent()).toContain('weak if right-handed, stiff if left-handed');
  const verdict = page.locator('.panel-verdict');
  await verdict.getByText('Say whether the archer shoots right- or left-handed.').waitFor();
  await verdict.locator('label', { hasText: 'left-handed' }).tap();
  await expect.poll(() => summary.textContent()).toMatch(/, stiff \(/);
  expect(await verdict.getByText('Say whether the archer shoots').count()).toBe(0);
  await verdict.locator('label', { hasText: 'right-handed' }).tap();
  await expect.poll(() => summary.textContent()).toMatch(/, weak \(/);

  await goToStep(page, 'Keep');
  await keep.tap();
  await page.locator('.end-card').waitFor();
  expect(complaints).toEqual([]);
  await context.close();
});
