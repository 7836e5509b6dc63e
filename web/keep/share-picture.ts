import { download } from '../files/download.ts';

/** Whether this device has a share sheet that takes pictures. */
export function canShare(): boolean {
  const share = navigator as { canShare?: (data: ShareData) => boolean };
  const probe = new File([], 'end.jpg', { type: 'image/jpeg' });
  return share.canShare?.({ files: [probe] }) ?? false;
}

/** Hands a picture to the device's share sheet, or as a file where there is none. */
export async function sharePicture(picture: Blob, name: string): Promise<void> {
  if (!canShare()) {
    download(picture, name);
    return;
  }
  try {
    await navigator.share({ files: [new File([picture], name, { type: picture.type })] });
  } catch (error) {
    // A person who closes the sheet wants nothing; where it fails, the file is still wanted.
    if ((error as Error).name !== 'AbortError') download(picture, name);
  }
}
