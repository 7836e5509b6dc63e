import { ENGLISH } from '../../src/words/words.ts';
import exifr from 'exifr/dist/lite.esm.mjs';
import { focalOfExif } from '../../src/fit/camera/focal-of-exif.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { ReadFailure } from './read-failure.ts';

/** Beyond this a phone's memory is at risk; cameras of 50 MP are the largest in common use. */
const MAX_PIXELS = 50_000_000;

export interface DecodedPhoto {
  readonly raster: Raster;
  readonly focalPx?: number;
}

/** Photo bytes to upright pixels by the browser's own decoder. Runs in a worker. */
export async function decodeInBrowser(photo: Blob): Promise<DecodedPhoto> {
  if (photo.size === 0) {
    throw new ReadFailure('empty-file', ENGLISH.say('The file is empty: choose the photo again.'));
  }
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(photo, { imageOrientation: 'from-image' });
  } catch {
    throw new ReadFailure(
      'not-a-photo',
      ENGLISH.say(
        'This file is not a photo that the browser can open: choose a JPEG, PNG or WebP.',
      ),
    );
  }
  const { width, height } = bitmap;
  try {
    if (width * height > MAX_PIXELS) {
      throw new ReadFailure(
        'too-many-pixels',
        ENGLISH.say(
          'The photo has {megapixels} megapixels; at most {most} are read. Save it smaller.',
          { megapixels: Math.round((width * height) / 1e6), most: MAX_PIXELS / 1e6 },
        ),
      );
    }
    const context = new OffscreenCanvas(width, height).getContext('2d', {
      willReadFrequently: true,
    });
    if (!context)
      throw new ReadFailure('no-canvas', ENGLISH.say('This browser cannot hand out pixels.'));
    context.drawImage(bitmap, 0, 0);
    const { data } = context.getImageData(0, 0, width, height);
    const focalPx = await focalOf(photo, [width, height]);
    return { raster: { width, height, data }, ...(focalPx !== undefined && { focalPx }) };
  } finally {
    bitmap.close();
  }
}

/** Focal length in pixels of a photo of that width and height, where its EXIF tells. */
export async function focalOf(
  photo: Blob,
  sizePx: readonly [number, number],
): Promise<number | undefined> {
  // This build of the reader cannot pick tags by name: it throws.
  const tags = (await exifr
    .parse(await photo.arrayBuffer(), { gps: false })
    .catch(() => undefined)) as Record<string, unknown> | undefined;
  return focalOfExif(tags ?? {}, sizePx);
}
