import { ENGLISH } from '../../src/words/words.ts';
import { focalOf } from './decode-in-browser.ts';
import { ReadFailure } from './read-failure.ts';

/** High enough that what compression changes lies below the sensor's noise. */
const JPEG_QUALITY = 0.95;

/**
 * A HEIC photo as a JPEG, upright. libheif applies the file's own rotation. The decoder, 2 MB of
 * WebAssembly under the LGPL, is fetched when the first such photo turns up. Runs in a worker.
 */
export async function convertHeic(photo: Blob): Promise<{ photo: Blob; focalPx: number | null }> {
  const { default: decode } = await import('heic-decode').catch(() => {
    throw new ReadFailure(
      'heic-missing',
      ENGLISH.say(
        'HEIC photos need a part of the page that is not here yet: connect once, or choose a JPEG.',
      ),
    );
  });
  const bytes = new Uint8Array(await photo.arrayBuffer());
  const images = await decode.all({ buffer: bytes }).catch(unreadable);
  try {
    const { width, height, data } = (await images[0]?.decode().catch(unreadable)) ?? unreadable();
    const canvas = new OffscreenCanvas(width, height);
    const context = canvas.getContext('2d');
    if (!context)
      throw new ReadFailure('no-canvas', ENGLISH.say('This browser cannot hand out pixels.'));
    context.putImageData(new ImageData(new Uint8ClampedArray(data), width, height), 0, 0);
    return {
      photo: await canvas.convertToBlob({ type: 'image/jpeg', quality: JPEG_QUALITY }),
      focalPx: (await focalOf(photo, [width, height])) ?? null,
    };
  } finally {
    images.dispose();
  }
}

function unreadable(): never {
  throw new ReadFailure(
    'heic-unreadable',
    ENGLISH.say('This HEIC photo cannot be opened: choose it as a JPEG.'),
  );
}
