import './keep-engine-silent.ts';
import type { NetworkRuntime } from '../../src/marks/network/network-session.ts';

/**
 * Machine code where it is installed, several times as quick and sooner loaded; its package has no
 * build for every platform, so WebAssembly elsewhere.
 */
export async function loadNetworkRuntime(): Promise<NetworkRuntime> {
  try {
    return { ort: await import('onnxruntime-node'), provider: 'cpu' };
  } catch {
    return loadWasmRuntime();
  }
}

/** onnxruntime-web's build for Node, which can use threads there. */
export async function loadWasmRuntime(): Promise<NetworkRuntime> {
  return { ort: await import('onnxruntime-web'), provider: 'wasm' };
}
