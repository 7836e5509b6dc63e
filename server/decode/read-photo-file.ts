import { constants } from 'node:fs';
import { open } from 'node:fs/promises';
import { decodePhoto, fileTooLarge, type DecodedPhoto } from './decode-photo.ts';
import { MAX_FILE_BYTES } from './limits.ts';
import { PhotoError } from './photo-error.ts';

/**
 * Opens and decodes a photo on disk.
 * @param path absolute, or relative to the working directory
 * @throws PhotoError
 */
export async function readPhotoFile(path: string): Promise<DecodedPhoto> {
  return decodePhoto(await photoBytes(path));
}

/** A photo file's bytes, with the checks that need the file system. */
export async function photoBytes(path: string): Promise<Uint8Array> {
  let file;
  try {
    // Without O_NONBLOCK, opening a named pipe would wait for a writer for ever.
    file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  } catch (error) {
    throw cannotOpen(path, error);
  }
  try {
    const stats = await file.stat();
    if (stats.isDirectory()) {
      throw new PhotoError('not-a-file', `${path} is a folder: name one photo in it.`);
    }
    if (!stats.isFile()) throw new PhotoError('not-a-file', `${path} is not an ordinary file.`);
    if (stats.size > MAX_FILE_BYTES) throw fileTooLarge();
    return await file.readFile();
  } finally {
    await file.close();
  }
}

function cannotOpen(path: string, cause: unknown): PhotoError {
  const code = (cause as NodeJS.ErrnoException).code;
  if (code === 'EACCES' || code === 'EPERM') {
    return new PhotoError('no-file', `${path} may not be opened: check its permissions.`, {
      cause,
    });
  }
  return new PhotoError('no-file', `${path} does not exist: check the name and the folder.`, {
    cause,
  });
}
