import { afterEach, describe, expect, it } from 'vitest';
import { PoolFullError, ReadingPool } from '../../../server/reading/reading-pool.ts';
import { readingJobSchema } from '../../../server/reading/reading-job.ts';

const worker = new URL('./poisoned-worker.ts', import.meta.url);
const job = (path: string) => readingJobSchema.parse({ photo: { path }, request: {} });
const codeOf = async (pool: ReadingPool, path: string) => {
  const outcome = await pool.read(job(path));
  return outcome.ok ? 'ok' : outcome.error.code;
};

let pool: ReadingPool;
afterEach(() => pool.close());

describe('ReadingPool', () => {
  it('replaces workers that end, crash or run out of memory, and reads the rest', async () => {
    pool = new ReadingPool({ workers: 2, heapMb: 48, worker });
    const codes = await Promise.all(
      ['a', 'exit', 'b', 'hoard', 'c', 'crash', 'd'].map((path) => codeOf(pool, path)),
    );
    const [read, died] = ['no-face', 'worker-died'];
    expect(codes).toEqual([read, died, read, died, read, died, read]);
  });

  it('does not blame a photo for a worker that died before it', async () => {
    pool = new ReadingPool({ workers: 1, worker });
    expect(await codeOf(pool, 'die-at-rest')).toBe('no-face');
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(await codeOf(pool, 'a')).toBe('no-face');
  });

  it('replaces a worker that hangs, and reads the rest', async () => {
    pool = new ReadingPool({ workers: 1, secondsPerPhoto: 3, worker });
    const codes = await Promise.all(['hang', 'a'].map((path) => codeOf(pool, path)));
    expect(codes).toEqual(['took-too-long', 'no-face']);
  });

  it('tells how many are ahead, refuses beyond the limit, and forgets who left', async () => {
    pool = new ReadingPool({ workers: 1, maxWaiting: 2, worker });
    const ahead: number[] = [];
    const leaving = new AbortController();
    const first = pool.read(job('1'));
    const second = pool.read(job('2'), { signal: leaving.signal });
    const third = pool.read(job('3'), { onAhead: (n) => ahead.push(n) });
    await expect(pool.read(job('4'))).rejects.toThrow(PoolFullError);
    leaving.abort(new Error('left'));
    await expect(second).rejects.toThrow('left');
    await Promise.all([first, third]);
    expect(ahead).toEqual([2, 1, 0]);
    expect([pool.busy, pool.waiting]).toEqual([0, 0]);
  });
});
