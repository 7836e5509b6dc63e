import { parentPort, workerData } from 'node:worker_threads';
import { answerCall, memoryOf, type NetworkCall } from '../../src/marks/network/networks-apart.ts';
import { loadNetworks } from './load-networks.ts';
import type { ThreadData } from './networks-in-thread.ts';

/** Loads the networks, tells whether they are there, and answers calls of them. */
async function serve(port: NonNullable<typeof parentPort>): Promise<void> {
  const networks = await loadNetworks((workerData as ThreadData).threads);
  port.postMessage(networks !== null);
  if (networks === null) return;
  port.on('message', (call: NetworkCall) => {
    void answerCall(call, networks).then((answer) => {
      port.postMessage(answer, memoryOf(answer));
    });
  });
}

if (parentPort) void serve(parentPort);
