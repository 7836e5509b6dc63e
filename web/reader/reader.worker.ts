import { ENGLISH } from '../../src/words/words.ts';
import type { Engine } from '../../src/reading/engine.ts';
import { readPhoto } from '../../src/reading/read-photo.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { convertHeic } from './convert-heic.ts';
import { decodeInBrowser } from './decode-in-browser.ts';
import { toReaderSchema, type FromReader } from './messages.ts';
import { ReadFailure } from './read-failure.ts';

let loading: Promise<Engine> | undefined;

function loadEngine(): Promise<Engine> {
  // Fetched apart: until they are here a photo is opened already, or found to be none.
  loading ??= Promise.all([
    import('../../src/raster/load-open-cv.ts').then(({ loadOpenCv }) => loadOpenCv()),
    import('./load-networks.ts').then(({ loadNetworks }) => loadNetworks()),
  ]).then(([{ cv }, networks]) => ({ cv, networks }));
  // What could not be fetched is tried again with the next photo.
  loading.catch(() => (loading = undefined));
  return loading;
}

function say(message: FromReader): void {
  postMessage(message);
}

addEventListener('message', ({ data }: MessageEvent<unknown>) => {
  void answer(data).catch((error: unknown) => {
    if (error instanceof ReadFailure || error instanceof ReadingError) {
      const { code, message, looksLike } = error;
      say({ type: 'failed', code, message, looksLike });
    } else {
      console.error(error);
      say({
        type: 'failed',
        code: 'unexpected',
        looksLike: null,
        message: ENGLISH.say('Reading failed unexpectedly. Try again, or place the face by hand.'),
      });
    }
  });
});

async function answer(data: unknown): Promise<void> {
  const message = toReaderSchema.parse(data);
  if (message.type === 'warm') {
    await loadEngine();
    const fetched = performance.getEntriesByType('resource').map((entry) => entry.name);
    say({ type: 'ready', loaded: [...new Set([location.href, ...fetched])] });
    return;
  }
  if (message.type === 'convert') {
    say({ type: 'converted', ...(await convertHeic(message.photo)) });
    return;
  }
  // The browser decodes beside this thread: the engine loads meanwhile.
  const loaded = loadEngine();
  const started = performance.now();
  say({ type: 'stage', stage: 'decode' });
  const photo = await decodeInBrowser(message.photo);
  const before = message.before ? await decodeInBrowser(message.before) : null;
  const also = message.also ? await decodeInBrowser(message.also) : null;
  const focalPx = photo.focalPx ?? message.focalPx;
  say({ type: 'stage', stage: 'load' });
  const engine = await loaded;
  const reading = await readPhoto(photo.raster, message.request, engine, {
    ...(focalPx !== null && { focalPx }),
    ...(message.byHand && { byHand: message.byHand }),
    ...(message.pick && { pick: message.pick }),
    sizes: message.sizes,
    ...(before && { before: besideOf(before) }),
    ...(also && { also: besideOf(also) }),
    onStage: (stage) => {
      say({ type: 'stage', stage });
    },
  });
  say({ type: 'done', reading, elapsedMs: performance.now() - started });
}

function besideOf({ raster, focalPx }: Awaited<ReturnType<typeof decodeInBrowser>>) {
  return { photo: raster, ...(focalPx !== undefined && { focalPx }) };
}
