import * as ort from 'onnxruntime-web/wasm';
import glueUrl from 'onnxruntime-web/ort-wasm-simd-threaded.mjs?url';
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
  // Threads share memory, which browsers allow only to pages whose server isolates them. Each loads
  // the glue by itself, so it has to be a file of its own then.
  const by = crossOriginIsolated
    ? {
        wasmPaths: { wasm, mjs: new URL(glueUrl, import.meta.url).href },
        threads: navigator.hardwareConcurrency,
      }
    : { wasmPaths: { wasm } };
  return createMarkNetwork(
    await createNetworkSession({ weights, runtime: { ort, provider: 'wasm' }, ...by }),
  );
}
