import * as ort from 'onnxruntime-web/wasm';
import glueUrl from 'onnxruntime-web/ort-wasm-simd-threaded.mjs?url';
import wasmUrl from 'onnxruntime-web/ort-wasm-simd-threaded.wasm?url';
import { createMarkNetwork } from '../../src/marks/network/mark-network.ts';
import { createEntryNetwork } from '../../src/marks/network/entry-network.ts';
import { createNetworkSession } from '../../src/marks/network/network-session.ts';
import type { Networks } from '../../src/marks/network/networks.ts';
import { createRearNetwork } from '../../src/marks/network/rear-network.ts';
import markWeightsUrl from '../../src/marks/network/weights/mark-network.onnx?url';
import entryWeightsUrl from '../../src/marks/network/weights/entry-network.onnx?url';
import rearWeightsUrl from '../../src/marks/network/weights/rear-network.onnx?url';

/** The networks with their weights. */
export async function loadNetworks(): Promise<Networks> {
  const wasm = new URL(wasmUrl, import.meta.url).href;
  // Threads share memory, which browsers allow only to pages whose server isolates them. Each loads
  // the glue by itself, so it has to be a file of its own then.
  const by = crossOriginIsolated
    ? {
        wasmPaths: { wasm, mjs: new URL(glueUrl, import.meta.url).href },
        threads: navigator.hardwareConcurrency,
      }
    : { wasmPaths: { wasm } };
  const load = async (url: string) =>
    createNetworkSession({
      weights: await fetchWeights(url),
      runtime: { ort, provider: 'wasm' },
      ...by,
    });
  const [marks, entries, rears] = await Promise.all(
    [markWeightsUrl, entryWeightsUrl, rearWeightsUrl].map(load),
  );
  return {
    marks: createMarkNetwork(marks!),
    entries: createEntryNetwork(entries!),
    rears: createRearNetwork(rears!),
  };
}

async function fetchWeights(url: string): Promise<Uint8Array> {
  const answer = await fetch(new URL(url, import.meta.url));
  if (!answer.ok) throw new Error(`The weights could not be fetched: ${answer.statusText}`);
  return new Uint8Array(await answer.arrayBuffer());
}
