import * as plainRuntime from 'onnxruntime-web/wasm';

type Runtime = Pick<typeof plainRuntime, 'env' | 'InferenceSession' | 'Tensor'>;

/** The trained network as a plain function; what runs it is its own affair. */
export interface NetworkSession {
  /**
   * Input planes (1, 7, side, side) in, evidence planes (1, 7, side / 2, side / 2) out, both row by
   * row. The returned array belongs to the caller.
   */
  readonly run: (planes: Float32Array, side: number) => Promise<Float32Array>;
  readonly release: () => Promise<void>;
}

export interface NetworkSessionOptions {
  /** Contents of the .onnx file. */
  readonly weights: Uint8Array;
  /** Where the WebAssembly files are served from; @default beside onnxruntime-web's own script */
  readonly wasmPaths?: string | { mjs?: string; wasm?: string };
  /**
   * Threads that may be used; more than four would wait for one another. They need SharedArrayBuffer
   * (in a page: cross-origin isolation). @default 1
   */
  readonly threads?: number;
  /**
   * Build of onnxruntime-web to run on. Threads in Node need the package's Node build, which
   * `import('onnxruntime-web')` gives there. @default the plain WebAssembly build
   */
  readonly runtime?: Runtime;
}

const MOST_THREADS = 4;

/** Loads the network into onnxruntime-web (WebAssembly), in Node and in browsers alike. */
export async function createNetworkSession(
  options: NetworkSessionOptions,
): Promise<NetworkSession> {
  const ort = options.runtime ?? plainRuntime;
  ort.env.wasm.numThreads = Math.min(MOST_THREADS, options.threads ?? 1);
  if (options.wasmPaths !== undefined) ort.env.wasm.wasmPaths = options.wasmPaths;
  const session = await ort.InferenceSession.create(options.weights, {
    executionProviders: ['wasm'],
    graphOptimizationLevel: 'all',
    extra: { session: { intra_op: { allow_spinning: '0' } } },
  });
  return {
    run: async (planes, side) => {
      const input = new ort.Tensor('float32', planes, [
        1,
        planes.length / (side * side),
        side,
        side,
      ]);
      const { evidence } = await session.run({ planes: input });
      const values = (await evidence!.getData()) as Float32Array;
      const own = values.slice();
      evidence!.dispose();
      input.dispose();
      return own;
    },
    release: () => session.release(),
  };
}
