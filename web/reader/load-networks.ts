import * as ort from 'onnxruntime-web/wasm';
import glueUrl from 'onnxruntime-web/ort-wasm-simd-threaded.mjs?url';
import wasmUrl from 'onnxruntime-web/ort-wasm-simd-threaded.wasm?url';
import { createMarkNetwork } from '../../src/marks/network/mark-network.ts';
import { createEntryNetwork } from '../../src/marks/network/entry-network.ts';
import { createNetworkSession } from '../../src/marks/network/network-session.ts';
import type { Networks } from '../../src/marks/network/networks.ts';
import { createRearNetwork } from '../../src/marks/network/rear-network.ts';

/** The networks. @param weights contents of the .onnx files for marks, entries and rear ends */
export async function loadNetworks(weights: readonly Uint8Array[]): Promise<Networks> {
  const wasm = new URL(wasmUrl, import.meta.url).href;
  // Threads share memory, which browsers allow only to pages whose server isolates them. Each loads
  // the glue by itself, so it has to be a file of its own then.
  const by = crossOriginIsolated
    ? {
        wasmPaths: { wasm, mjs: new URL(glueUrl, import.meta.url).href },
        threads: navigator.hardwareConcurrency,
      }
    : { wasmPaths: { wasm } };
  const [marks, entries, rears] = await Promise.all(
    weights.map((own) =>
      createNetworkSession({ weights: own, runtime: { ort, provider: 'wasm' }, ...by }),
    ),
  );
  return {
    marks: createMarkNetwork(marks!),
    entries: createEntryNetwork(entries!),
    rears: createRearNetwork(rears!),
  };
}
