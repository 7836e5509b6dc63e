import wasmUrl from 'onnxruntime-web/ort-wasm-simd-threaded.wasm?url';
import { createMarkNetwork, type MarkNetwork } from '../../src/marks/network/mark-network.ts';
import { createNetworkSession } from '../../src/marks/network/network-session.ts';
import weightsUrl from '../../src/marks/network/weights/mark-network.onnx?url';

/** The mark network with its weights. */
export async function loadNetwork(): Promise<MarkNetwork> {
  const answer = await fetch(new URL(weightsUrl, import.meta.url));
  if (!answer.ok) throw new Error(`The weights could not be fetched: ${answer.statusText}`);
  const weights = new Uint8Array(await answer.arrayBuffer());
  const wasm = new URL(wasmUrl, import.meta.url).href;
  return createMarkNetwork(await createNetworkSession({ weights, wasmPaths: { wasm } }));
}
