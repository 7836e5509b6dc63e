import { expect, it, onTestFinished } from 'vitest';
import { createMetrics } from '../../../server/watch/metrics.ts';
import { watchServer } from '../../../server/watch/watch-server.ts';

it('tells what there is, nothing of what is not known, and whether it is ready', async () => {
  let isAway = false;
  const metrics = await createMetrics(() =>
    isAway
      ? Promise.reject(new Error('away'))
      : Promise.resolve({ waiting: 3, reading: 1, setAside: 0, kept: 2, oldestSeconds: 12.5 }),
  );
  const server = await watchServer({
    host: '127.0.0.1',
    port: 0,
    metrics,
    check: () => (isAway ? Promise.reject(new Error('It is away.')) : Promise.resolve()),
  });
  onTestFinished(() => server.close());
  const ask = async (path: string) => {
    const response = await fetch(new URL(path, server.url));
    return [response.status, await response.text()] as const;
  };
  metrics.read({ ok: false, elapsedMs: 800, error: { code: 'no-face', message: '' } }, 2);
  metrics.lost('aside');
  metrics.asked(0.003);
  const [, text] = await ask('metrics');
  for (const line of [
    'endwise_readings_waiting 3',
    'endwise_oldest_waiting_seconds 12.5',
    'endwise_readings_total{code="no-face"} 1',
    'endwise_worker_deaths_total{then="aside"} 1',
    'endwise_database_seconds_count 1',
    'endwise_database_up 1',
  ]) {
    expect(text.split('\n')).toContain(line);
  }
  expect(await ask('ready')).toEqual([200, 'ready\n']);
  isAway = true;
  expect((await ask('metrics'))[1]).toContain('endwise_database_up 0');
  expect((await ask('metrics'))[1]).not.toMatch(/^endwise_readings_waiting \d/m);
  expect(await ask('ready')).toEqual([503, 'It is away.\n']);
  expect(await ask('health')).toEqual([200, 'ok\n']);
  expect((await ask('other'))[0]).toBe(404);
});
