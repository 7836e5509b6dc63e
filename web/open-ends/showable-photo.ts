import { say, words } from '../state/words.ts';
import { photoKind } from '../../src/photo-files/photo-kind.ts';
import { pictureFormat } from '../../src/photo-files/picture-formats.ts';
import { convertInWorker } from '../reader/read-in-worker.ts';
import { ReadFailure } from '../reader/read-failure.ts';
import { announce } from '../state/announce.ts';

/** Enough to tell what a file is. */
const HEAD_BYTES = 4100;

export interface ShowablePhoto {
  readonly photo: Blob;
  /** Focal length in pixels, where the photo's file no longer tells it. */
  readonly focalPx: number | null;
}

/** A photo that this browser can show: HEIC is converted where the browser has no decoder for it. */
export async function showablePhoto(photo: Blob): Promise<ShowablePhoto> {
  const asItIs = { photo, focalPx: null };
  const kind = photoKind(new Uint8Array(await photo.slice(0, HEAD_BYTES).arrayBuffer()));
  const isShownByAll = !kind.readable || pictureFormat(kind.kind).shownByBrowsers;
  if (isShownByAll || (await isShown(photo))) return asItIs;
  announce(say('Opening a HEIC photo…'));
  try {
    return await convertInWorker(photo);
  } catch (error) {
    if (error instanceof ReadFailure) announce(words.value.again(error.message));
    return asItIs;
  }
}

async function isShown(photo: Blob): Promise<boolean> {
  try {
    (await createImageBitmap(photo)).close();
    return true;
  } catch {
    return false;
  }
}
