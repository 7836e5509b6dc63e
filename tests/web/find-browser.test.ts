import { expect, it } from 'vitest';
import { findBrowser } from './find-browser.ts';

it('takes the browser that is named before any other, and says it when that one is not there', async () => {
  expect(await findBrowser({ ENDWISE_BROWSER: process.execPath })).toBe(process.execPath);
  await expect(findBrowser({ ENDWISE_BROWSER: '/nowhere/chrome' })).rejects.toThrow(
    'ENDWISE_BROWSER names /nowhere/chrome, which is not there.',
  );
});
