import { expect, test } from 'vitest';
import { oneAtATime } from '../../../src/marks/network/one-at-a-time.ts';

test('calls run one after another in their order, whatever becomes of those before', async () => {
  const said: string[] = [];
  let running = 0;
  const run = oneAtATime(async (name: string, fails: boolean) => {
    expect(++running).toBe(1);
    said.push(name);
    await new Promise((resolve) => setImmediate(resolve));
    running--;
    if (fails) throw new Error(`${name} failed`);
    return name.toUpperCase();
  });
  const answers = await Promise.allSettled([run('a', false), run('b', true), run('c', false)]);
  expect(said).toEqual(['a', 'b', 'c']);
  expect(answers).toEqual([
    { status: 'fulfilled', value: 'A' },
    { status: 'rejected', reason: new Error('b failed') },
    { status: 'fulfilled', value: 'C' },
  ]);
});
