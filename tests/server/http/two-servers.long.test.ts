import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { DATABASE_FILE } from '../../../server/log/open-database.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { startServer } from './start-server.ts';

const data = join(temporaryFolder(), 'data');

it(
  'two servers share one log: both wait for whoever writes, five seconds long',
  { timeout: 180_000 },
  async () => {
    const servers = await Promise.all([startServer(data), startServer(data)]);
    const put = (of: number, id: string) =>
      fetch(new URL(`/api/log/archers/${id}`, servers[of]!.url), {
        method: 'PUT',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ id, name: `Archer ${id}`, hand: 'right' }),
      });
    const together = Array.from({ length: 20 }, (_, i) => put(i % 2, `a${i}`));
    expect((await Promise.all(together)).map(({ status }) => status)).toEqual(
      Array.from({ length: 20 }, () => 204),
    );

    const other = new Database(join(data, DATABASE_FILE));
    other.exec('BEGIN IMMEDIATE');
    const waiting = [put(0, 'b0'), put(1, 'b1')];
    const answered: number[] = [];
    for (const one of waiting) void one.then(({ status }) => answered.push(status));
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(answered).toEqual([]);
    // Who waits for the log keeps nobody else waiting.
    expect((await fetch(new URL('/api/health', servers[0].url))).status).toBe(200);
    other.exec('COMMIT');
    expect((await Promise.all(waiting)).map(({ status }) => status)).toEqual([204, 204]);

    other.exec('BEGIN IMMEDIATE');
    const start = performance.now();
    const refused = await put(1, 'c1');
    expect(performance.now() - start).toBeGreaterThan(4000);
    expect([refused.status, refused.headers.get('retry-after'), await refused.json()]).toEqual([
      503,
      '30',
      {
        error: { code: 'log-busy', message: 'Another endwise is writing to the log: try again.' },
      },
    ]);
    other.exec('COMMIT');
    other.close();
    const list = await fetch(new URL('/api/log/archers', servers[0].url));
    const archers = (await list.json()) as unknown[];
    expect(archers).toHaveLength(22);
    expect(await Promise.all(servers.map(({ end }) => end()))).toEqual([0, 0]);
  },
);
