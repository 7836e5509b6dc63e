import { access, readFile } from 'node:fs/promises';
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
  const [{ loadOpenCv }, networks] = await Promise.all([
    import('../../src/raster/load-open-cv.ts'),
    loadNetworks(threads),
  ]);
  const { cv } = await loadOpenCv();
  return { cv, networks };
}

/** Null where weights are missing: the core then uses its hand-made evidence. */
export async function loadNetworks(threads = availableParallelism()): Promise<Networks | null> {
  const files = await weightsFiles();
  if (files === null) return null;
  const [{ createMarkNetwork }, { createRearNetwork }, { createNetworkSession }, runtime] =
    await Promise.all([
      import('../../src/marks/network/mark-network.ts'),
      import('../../src/marks/network/rear-network.ts'),
      import('../../src/marks/network/network-session.ts'),
      loadNetworkRuntime(),
    ]);
  const load = async (file: URL) =>
    createNetworkSession({ weights: await readFile(file), runtime, threads });
  const [marks, rears] = await Promise.all([load(files.marks), load(files.rears)]);
  return { marks: createMarkNetwork(marks), rears: createRearNetwork(rears) };
}

/** Where the networks' weights lie, or null. */
export async function weightsFiles(): Promise<{ marks: URL; rears: URL } | null> {
  const [marks, rears] = ['mark-network.onnx', 'rear-network.onnx'].map(
    (name) => new URL(name, WEIGHTS),
  ) as [URL, URL];
  const there = await Promise.all(
    [marks, rears].map((file) =>
      access(file).then(
        () => true,
        () => false,
      ),
    ),
  );
  return there.every(Boolean) ? { marks, rears } : null;
}
