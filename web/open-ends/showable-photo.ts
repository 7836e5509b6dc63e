import { HEIC_BRANDS } from '../../src/evening/photo-files.ts';
import { convertInWorker } from '../reader/read-in-worker.ts';
import { ReadFailure } from '../reader/read-failure.ts';
import { announce } from '../state/announce.ts';

export interface ShowablePhoto {
  readonly photo: Blob;
  /** Focal length in pixels, where the photo's file no longer tells it. */
  readonly focalPx: number | null;
}

/** A photo that this browser can show: HEIC is converted where the browser has no decoder for it. */
export async function showablePhoto(photo: Blob): Promise<ShowablePhoto> {
  const asItIs = { photo, focalPx: null };
  const head = String.fromCharCode(...new Uint8Array(await photo.slice(4, 12).arrayBuffer()));
  if (!head.startsWith('ftyp') || !HEIC_BRANDS.has(head.slice(4)) || (await isShown(photo))) {
    return asItIs;
  }
  announce('Opening a HEIC photo…');
  try {
    return await convertInWorker(photo);
  } catch (error) {
    if (error instanceof ReadFailure) announce(error.message);
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
