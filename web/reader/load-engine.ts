import type { Engine } from '../../src/reading/engine.ts';
import markWeightsUrl from '../../src/marks/network/weights/mark-network.onnx?url';
import entryWeightsUrl from '../../src/marks/network/weights/entry-network.onnx?url';
import rearWeightsUrl from '../../src/marks/network/weights/rear-network.onnx?url';

let loading: Promise<Engine> | undefined;

/** OpenCV and the networks, loaded side by side and once for this worker. */
export function loadEngine(): Promise<Engine> {
  loading ??= load();
  // What could not be fetched is tried again with the next photo.
  loading.catch(() => (loading = undefined));
  return loading;
}

async function load(): Promise<Engine> {
  const weights = Promise.all([markWeightsUrl, entryWeightsUrl, rearWeightsUrl].map(fetchWeights));
  // It may fail before somebody waits for it.
  weights.catch(() => undefined);
  const [{ cv }, networks] = await Promise.all([
    import('../../src/raster/load-open-cv.ts').then(({ loadOpenCv }) => loadOpenCv()),
    import('./load-networks.ts').then(async ({ loadNetworks }) => loadNetworks(await weights)),
  ]);
  return { cv, networks };
}

async function fetchWeights(url: string): Promise<Uint8Array> {
  const answer = await fetch(new URL(url, import.meta.url));
  if (!answer.ok) throw new Error(`The weights could not be fetched: ${answer.statusText}`);
  return new Uint8Array(await answer.arrayBuffer());
}
