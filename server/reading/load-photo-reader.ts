import { readdir, readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import type { Engine } from '../../src/reading/engine.ts';
import type { MarkNetwork } from '../../src/marks/network/mark-network.ts';
import { loadNetworkRuntime } from './network-runtime.ts';
import type { PhotoReader } from './photo-reader.ts';

const WEIGHTS = new URL('../../src/marks/network/weights/', import.meta.url);

let loading: Promise<PhotoReader> | undefined;

/**
 * The core with OpenCV and the mark network, loaded once per process (about half a second).
 * @param threads for the network: a single reading may use all cores, workers share them out
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
  return (photo, request, { before, sizes, signal }) =>
    readPhoto(photo.raster, request, engine, {
      ...(photo.focalPx === undefined ? {} : { focalPx: photo.focalPx }),
      ...(before === undefined ? {} : { before: beforeOf(before) }),
      ...(sizes === undefined ? {} : { sizes }),
      ...(signal === undefined ? {} : { signal }),
    });
}

function beforeOf({ raster, focalPx }: Parameters<PhotoReader>[0]) {
  return { photo: raster, ...(focalPx === undefined ? {} : { focalPx }) };
}

async function loadEngine(threads: number): Promise<Engine> {
  const [{ loadOpenCv }, network] = await Promise.all([
    import('../../src/raster/load-open-cv.ts'),
    loadNetwork(threads),
  ]);
  const { cv } = await loadOpenCv();
  return { cv, network };
}

/** Null where no weights are there: the core then uses its hand-made evidence. */
export async function loadNetwork(threads = availableParallelism()): Promise<MarkNetwork | null> {
  const file = await weightsFile();
  if (file === null) return null;
  const [{ createMarkNetwork }, { createNetworkSession }, runtime, weights] = await Promise.all([
    import('../../src/marks/network/mark-network.ts'),
    import('../../src/marks/network/network-session.ts'),
    loadNetworkRuntime(),
    readFile(file),
  ]);
  return createMarkNetwork(await createNetworkSession({ weights, runtime, threads }));
}

/** Where the network's weights lie, or null. */
export async function weightsFile(): Promise<URL | null> {
  const files = await readdir(WEIGHTS).catch(() => [] as string[]);
  const name = files.filter((file) => file.endsWith('.onnx')).sort()[0];
  return name === undefined ? null : new URL(name, WEIGHTS);
}
