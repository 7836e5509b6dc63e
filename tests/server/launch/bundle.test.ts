import { existsSync, utimesSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { bundledModule } from '../../../server/launch/bundle.mjs';

const path = (module: string) => fileURLToPath(new URL(`../../../${module}`, import.meta.url));

it('bundles what starts a process, anew when the code has changed, and nothing else', async () => {
  const before = await bundledModule(path('server/cli/endwise.ts'));
  expect(existsSync(new URL(before!))).toBe(true);
  expect(await bundledModule(path('server/cli/endwise.ts'))).toBe(before);
  const now = new Date();
  utimesSync(path('server/cli/terminal/exit.ts'), now, now);
  const after = await bundledModule(path('server/cli/endwise.ts'));
  expect(after).not.toBe(before);
  expect(existsSync(new URL(after!))).toBe(true);
  expect(await bundledModule(path('server/http/listen.ts'))).toBeNull();
});
