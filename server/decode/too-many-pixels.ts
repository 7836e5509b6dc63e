import { MAX_PIXELS } from './limits.ts';
import { PhotoError } from './photo-error.ts';

/** The refusal of a photo by the size that its header declares. */
export function tooManyPixels(width: number, height: number): PhotoError {
  const megapixels = Math.ceil((width * height) / 1e6);
  return new PhotoError(
    'too-many-pixels',
    `The photo has ${megapixels} megapixels and at most ${MAX_PIXELS / 1e6} are read: ` +
      'take it at the normal resolution, or scale it down.',
  );
}
