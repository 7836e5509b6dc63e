import type * as WebRuntime from 'onnxruntime-web/wasm';

/** onnxruntime as one of its packages exports it; they all hold the same interface. */
export interface NetworkRuntime {
  readonly ort: Pick<typeof WebRuntime, 'env' | 'InferenceSession' | 'Tensor'>;
  /** WebAssembly, or the machine code of the processor. */
  readonly provider: 'wasm' | 'cpu';
}

/** A trained network as a plain function; what runs it is its own affair. */
export interface NetworkSession {
  /** `planes` of the given shape in, evidence out. The returned array belongs to the caller. */
  readonly run: (planes: Float32Array, shape: readonly number[]) => Promise<Float32Array>;
  readonly release: () => Promise<void>;
}

export interface NetworkSessionOptions {
  /** Contents of the .onnx file. */
  readonly weights: Uint8Array;
  readonly runtime: NetworkRuntime;
  /** Where the WebAssembly files are served from; @default beside onnxruntime-web's own script */
  readonly wasmPaths?: string | { mjs?: string; wasm?: string };
  /**
   * Threads that may be used; more than four would wait for one another. WebAssembly needs
   * SharedArrayBuffer for them (in a page: cross-origin isolation). @default 1
   */
  readonly threads?: number;
}

const MOST_THREADS = 4;

/** Loads a network into a runtime, in Node and in browsers alike. */
export async function createNetworkSession({
  weights,
  runtime: { ort, provider },
  wasmPaths,
  threads = 1,
}: NetworkSessionOptions): Promise<NetworkSession> {
  const numThreads = Math.min(MOST_THREADS, threads);
  if (provider === 'wasm') {
    ort.env.wasm.numThreads = numThreads;
    if (wasmPaths !== undefined) ort.env.wasm.wasmPaths = wasmPaths;
  }
  const session = await ort.InferenceSession.create(weights, {
    executionProviders: [provider],
    intraOpNumThreads: numThreads,
    graphOptimizationLevel: 'all',
    // Plans of memory are kept for every shape that was ever read: of tiles there are dozens.
    enableMemPattern: false,
    extra: { session: { intra_op: { allow_spinning: '0' } } },
  });
  return {
    run: async (planes, shape) => {
      const input = new ort.Tensor('float32', planes, shape);
      const { evidence } = await session.run({ planes: input });
      return (await evidence!.getData()) as Float32Array;
    },
    release: () => session.release(),
  };
}
