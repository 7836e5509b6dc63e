import markWeightsUrl from '../../src/marks/network/weights/mark-network.onnx?url';
import entryWeightsUrl from '../../src/marks/network/weights/entry-network.onnx?url';
import rearWeightsUrl from '../../src/marks/network/weights/rear-network.onnx?url';
import { answerCall, memoryOf, type NetworkCall } from '../../src/marks/network/networks-apart.ts';
import type { FromNetworks } from './networks-beside.ts';

// Code and weights are asked for at once.
const weights = Promise.all([markWeightsUrl, entryWeightsUrl, rearWeightsUrl].map(fetchWeights));
const loading = Promise.all([import('./load-networks.ts'), weights]).then(
  ([{ loadNetworks }, files]) => loadNetworks(files),
);

async function fetchWeights(url: string): Promise<Uint8Array> {
  const answer = await fetch(new URL(url, import.meta.url));
  if (!answer.ok) throw new Error(`The weights could not be fetched: ${answer.statusText}`);
  return new Uint8Array(await answer.arrayBuffer());
}

function say(message: FromNetworks, memory: ArrayBuffer[] = []): void {
  postMessage(message, { transfer: memory });
}

loading.then(
  () => {
    const fetched = performance.getEntriesByType('resource').map((entry) => entry.name);
    say({ type: 'ready', loaded: [location.href, ...fetched] });
  },
  (error: unknown) => {
    say({ type: 'missing', problem: String(error) });
  },
);

addEventListener('message', ({ data }: MessageEvent<NetworkCall>) => {
  void loading
    .then((networks) => answerCall(data, networks))
    .then((answer) => {
      say({ type: 'answer', answer }, memoryOf(answer));
    });
});
