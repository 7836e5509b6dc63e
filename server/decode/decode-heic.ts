import type { Raster } from '../../src/raster/raster.ts';
import { MAX_PIXELS } from './limits.ts';
import { loadLibheif } from './load-libheif.ts';
import { PhotoError } from './photo-error.ts';
import { tooManyPixels } from './too-many-pixels.ts';

/**
 * Decodes the primary picture of a HEIC file. libheif applies the file's own rotation (irot), so the
 * EXIF orientation, which repeats it, must not be applied again. The decoder is loaded only when a HEIC
 * photo turns up.
 * @throws PhotoError
 */
export async function decodeHeic(bytes: Uint8Array): Promise<Raster> {
  const heic = await loadLibheif();
  let images;
  try {
    images = await heic.all({ buffer: bytes });
  } catch (cause) {
    throw damaged(cause);
  }
  try {
    const image = images[0];
    if (image === undefined) throw damaged();
    if (image.width * image.height > MAX_PIXELS) throw tooManyPixels(image.width, image.height);
    const { width, height, data } = await image.decode().catch((cause: unknown) => {
      throw damaged(cause);
    });
    return { width, height, data };
  } finally {
    images.dispose();
  }
}

function damaged(cause?: unknown): PhotoError {
  return new PhotoError(
    'damaged',
    'The HEIC photo cannot be decoded: copy it from the phone again, or send it as JPEG.',
    { cause },
  );
}
