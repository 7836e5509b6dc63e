import './keep-engine-silent.ts';
import { Worker } from 'node:worker_threads';
import { networksApart, type NetworkAnswer } from '../../src/marks/network/networks-apart.ts';
import type { Networks } from '../../src/marks/network/networks.ts';
import { noteNativeWork } from '../processes/native-work.ts';

/** What the thread is told when it starts. */
export interface ThreadData {
  /** The module that it runs. */
  readonly module: string;
  /** Threads of the networks' engine. */
  readonly threads: number;
}

const ENDED = new Error('The thread of the networks has ended.');

const ENTRY = new URL('../processes/thread-entry.mjs', import.meta.url);
const MODULE = new URL('./network-thread.ts', import.meta.url);

/** The networks in a thread of their own; null where weights are missing. It keeps no process running. */
export async function networksInThread(threads: number): Promise<Networks | null> {
  const workerData: ThreadData = { module: MODULE.href, threads };
  const thread = new Worker(ENTRY, { workerData });
  const loaded = new Promise<boolean>((resolve, reject) => {
    thread.once('message', resolve).once('error', reject);
    thread.once('exit', () => reject(ENDED));
  });
  noteNativeWork(loaded);
  const isThere = await loaded;
  if (!isThere) {
    await thread.terminate();
    return null;
  }
  let calls = 0;
  let rests: () => void = () => undefined;
  const { networks, take, fail } = networksApart(
    (call) => {
      thread.postMessage(call);
      if (calls++ > 0) return;
      thread.ref();
      noteNativeWork(new Promise<void>((resolve) => (rests = resolve)));
    },
    async () => void (await thread.terminate()),
  );
  thread.on('message', (answer: NetworkAnswer) => {
    if (--calls === 0) {
      thread.unref();
      rests();
    }
    take(answer);
  });
  thread.on('error', fail);
  thread.on('exit', () => {
    rests();
    fail(ENDED);
  });
  thread.unref();
  return networks;
}
