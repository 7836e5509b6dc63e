import { networksApart, type NetworkAnswer } from '../../src/marks/network/networks-apart.ts';
import type { Networks } from '../../src/marks/network/networks.ts';

/** What the worker of the networks says. */
export type FromNetworks =
  /** Answers nothing: they are loaded, from these addresses. */
  | { readonly type: 'ready'; readonly loaded: readonly string[] }
  | { readonly type: 'missing'; readonly problem: string }
  | { readonly type: 'answer'; readonly answer: NetworkAnswer };

export interface NetworksBeside {
  readonly networks: Networks;
  /** Addresses of all that they were loaded from. */
  readonly loaded: readonly string[];
}

/**
 * The networks in a worker beside this one, which goes on with the photo while they look.
 *
 * @param onGone Told where the worker breaks down: it answers no more.
 */
export function networksBeside(onGone: () => void): Promise<NetworksBeside> {
  const worker = new Worker(new URL('./networks.worker.ts', import.meta.url), { type: 'module' });
  const { networks, take, fail } = networksApart(
    (call) => {
      worker.postMessage(call);
    },
    () => Promise.resolve(worker.terminate()),
  );
  return new Promise((resolve, reject) => {
    const give = (problem: string) => {
      worker.terminate();
      const reason = new Error(`The networks are gone: ${problem}`);
      fail(reason);
      onGone();
      reject(reason);
    };
    worker.onerror = ({ message }) => {
      give(message);
    };
    worker.onmessage = ({ data }: MessageEvent<FromNetworks>) => {
      if (data.type === 'answer') take(data.answer);
      else if (data.type === 'ready') resolve({ networks, loaded: data.loaded });
      else give(data.problem);
    };
  });
}
