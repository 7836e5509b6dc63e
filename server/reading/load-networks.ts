import { readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import type { Networks } from '../../src/marks/network/networks.ts';
import { loadNetworkRuntime } from './network-runtime.ts';

const WEIGHTS = new URL('../../src/marks/network/weights/', import.meta.url);

/** Null where weights are missing: the core then uses its hand-made evidence. */
export async function loadNetworks(threads = availableParallelism()): Promise<Networks | null> {
  const [
    weights,
    { createMarkNetwork },
    { createEntryNetwork },
    { createRearNetwork },
    { createNetworkSession },
    runtime,
  ] = await Promise.all([
    readWeights(),
    import('../../src/marks/network/mark-network.ts'),
    import('../../src/marks/network/entry-network.ts'),
    import('../../src/marks/network/rear-network.ts'),
    import('../../src/marks/network/network-session.ts'),
    loadNetworkRuntime(),
  ]);
  if (weights === null) return null;
  const [marks, entries, rears] = await Promise.all(
    weights.map((own) => createNetworkSession({ weights: own, runtime, threads })),
  );
  return {
    marks: createMarkNetwork(marks!),
    entries: createEntryNetwork(entries!),
    rears: createRearNetwork(rears!),
  };
}

/** Of the networks for marks, entries and rear ends; null unless all are there. */
function readWeights(): Promise<Uint8Array[] | null> {
  const files = ['mark-network.onnx', 'entry-network.onnx', 'rear-network.onnx'];
  return Promise.all(files.map((name) => readFile(new URL(name, WEIGHTS)))).catch(() => null);
}
