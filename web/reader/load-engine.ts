import type { Engine } from '../../src/reading/engine.ts';
import { networksBeside } from './networks-beside.ts';

/** The engine, and where what is not this worker's own came from. */
export interface LoadedEngine extends Engine {
  /** Addresses of all that the networks' worker loaded. */
  readonly loaded: readonly string[];
}

let loading: Promise<LoadedEngine> | undefined;

/** OpenCV and the networks, loaded side by side and once for this worker. */
export function loadEngine(): Promise<LoadedEngine> {
  loading ??= load();
  // What could not be fetched is tried again with the next photo.
  loading.catch(forget);
  return loading;
}

function forget(): void {
  loading = undefined;
}

async function load(): Promise<LoadedEngine> {
  const [{ cv }, { networks, loaded }] = await Promise.all([
    import('../../src/raster/load-open-cv.ts').then(({ loadOpenCv }) => loadOpenCv()),
    networksBeside(forget),
  ]);
  return { cv, networks, loaded };
}
