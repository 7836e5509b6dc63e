import { availableParallelism } from 'node:os';
import type { Engine } from '../../src/reading/engine.ts';
import { networksInThread } from './networks-in-thread.ts';
import { loadNetworks } from './load-networks.ts';
import type { PhotoReader } from './photo-reader.ts';

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
    // One thread goes on with the photo while another runs the networks.
    threads > 1 ? networksInThread(threads) : loadNetworks(threads),
  ]);
  const { cv } = await loadOpenCv();
  return { cv, networks };
}
