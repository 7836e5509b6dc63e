import { readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import type { Engine } from '../../src/reading/engine.ts';
import type { Networks } from '../../src/marks/network/networks.ts';
import { loadNetworkRuntime } from './network-runtime.ts';
import type { PhotoReader } from './photo-reader.ts';

const WEIGHTS = new URL('../../src/marks/network/weights/', import.meta.url);

let loading: Promise<PhotoReader> | undefined;

/**
 * The core with OpenCV and the networks, loaded once per process (about half a second).
 * @param threads for the networks: a single reading may use all cores, workers share them out
 */
export function loadPhotoReader(threads = availableParallelism()): Promise<PhotoReader> {
  loading ??= load(threads);
  return loading;
}

async function load(threads: number): Promise<PhotoReader> {
  const [{ readPhoto }, engine] = await Promise.all([
    import('../../src/reading/read-photo.ts'),
    loadEngine(threads),
  ]);
  return (photo, request, { before, also, sizes, signal }) =>
    readPhoto(photo.raster, request, engine, {
      ...(photo.focalPx === undefined ? {} : { focalPx: photo.focalPx }),
      ...(before === undefined ? {} : { before: besideOf(before) }),
      ...(also === undefined ? {} : { also: besideOf(also) }),
      ...(sizes === undefined ? {} : { sizes }),
      ...(signal === undefined ? {} : { signal }),
    });
}

function besideOf({ raster, focalPx }: Parameters<PhotoReader>[0]) {
  return { photo: raster, ...(focalPx === undefined ? {} : { focalPx }) };
}

async function loadEngine(threads: number): Promise<Engine> {
  const [{ loadOpenCv }, networks] = await Promise.all([
    import('../../src/raster/load-open-cv.ts'),
    loadNetworks(threads),
  ]);
  const { cv } = await loadOpenCv();
  return { cv, networks };
}

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
