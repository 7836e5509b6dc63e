import { ENGLISH } from '../../src/words/words.ts';
import { readPhoto } from '../../src/reading/read-photo.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { convertHeic } from './convert-heic.ts';
import { decodeInBrowser } from './decode-in-browser.ts';
import { loadEngine } from './load-engine.ts';
import { toReaderSchema, type FromReader, type ToReader } from './messages.ts';
import { ReadFailure } from './read-failure.ts';
import { rehearse } from './rehearse.ts';

function say(message: FromReader): void {
  postMessage(message);
}

let photos = 0;
let rehearsed = false;

/** Answers one message of the page, with messages. */
export async function answerMessage(data: unknown): Promise<void> {
  try {
    await answer(toReaderSchema.parse(data));
  } catch (error) {
    if (error instanceof ReadFailure || error instanceof ReadingError) {
      const { code, message, looksLike } = error;
      say({ type: 'failed', code, message, looksLike });
      return;
    }
    console.error(error);
    say({
      type: 'failed',
      code: 'unexpected',
      looksLike: null,
      message: ENGLISH.say('Reading failed unexpectedly. Try again, or place the face by hand.'),
    });
  }
}

async function answer(message: ToReader): Promise<void> {
  if (message.type === 'warm') {
    // Why it cannot be loaded is said with the photo.
    const engine = await loadEngine().catch(() => null);
    const fetched = performance.getEntriesByType('resource').map((entry) => entry.name);
    const all = engine ? [location.href, ...fetched, ...engine.loaded] : [];
    say({ type: 'ready', loaded: [...new Set(all)] });
    if (engine && message.rehearse && !rehearsed && photos === 0) {
      rehearsed = true;
      // Nobody waits for it: what goes wrong is no answer to a photo.
      await rehearse(engine, () => photos > 0).catch(console.error);
    }
    return;
  }
  if (message.type === 'convert') {
    say({ type: 'converted', ...(await convertHeic(message.photo)) });
    return;
  }
  photos++;
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
