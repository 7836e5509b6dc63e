import { ENGLISH } from '../../src/words/words.ts';
import { createHash } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { PhotoSource } from '../decode/photo-source.ts';
import { LogError } from './log-error.ts';
import type { Tables } from './tables.ts';

export interface StoredPhoto {
  readonly file: string;
  readonly sha256: string;
  /** Of the photo as it was sent. */
  readonly sourceSha256: string;
}

/** What a photo of an end is called, and what its bytes must be. */
export type PhotoPlace = Pick<StoredPhoto, 'file' | 'sha256'>;

/** A photo that is clean and about to be kept. */
export interface PreparedPhoto extends StoredPhoto {
  /** To be called in the transaction that keeps its end, after the end's row. */
  keepWith(tx: Kysely<Tables>, endId: string): Promise<void>;
  /** To be called where the end was not kept after all. */
  discard(): Promise<void>;
}

/** A stored photo of an archive and the end that it is of. */
export interface IncomingPhoto {
  /** In the archive. */
  readonly sent: PhotoPlace;
  /** What it is called in the log. */
  readonly file: string;
  readonly endId: string;
}

/**
 * Photos of an archive that is being taken in: each lies safe before its end is there, so that a try that
 * broke off is gone on with.
 */
export interface IncomingPhotos {
  /** Hashes of what this or an earlier try stored of some photos, by their files' names in the archive. */
  stored(sent: readonly PhotoPlace[]): Promise<ReadonlyMap<string, string>>;
  /** When this returns, they survive a power cut. */
  store(
    photos: readonly { readonly sent: PhotoPlace; readonly clean: Uint8Array }[],
  ): Promise<void>;
  /** What it can be called in the log: as in the archive, unless something there is called so. */
  freeName(sent: PhotoPlace): Promise<string>;
  /** To be called in the transaction that keeps their ends, after the ends' rows. */
  keepWith(tx: Kysely<Tables>, photos: readonly IncomingPhoto[]): Promise<void>;
  /** To be called where the ends were not kept after all. */
  takeBack(photos: readonly IncomingPhoto[]): Promise<void>;
  /** Removes what is stored and of no end. */
  forget(): Promise<void>;
}

/** Photos of ends, under names of our own, upright and without place, device or time. */
export interface PhotoStore {
  readonly incoming: IncomingPhotos;
  /**
   * Decodes a photo, which drops every tag it carried.
   * @throws PhotoError for what is no photo
   */
  prepare(photo: PhotoSource): Promise<PreparedPhoto>;
  /** @throws an error where it is not there */
  read(file: string): Promise<Buffer>;
  /** @throws LogError where the photo is gone, or no longer what was kept */
  readSound(place: PhotoPlace): Promise<Buffer>;
  /** To be called once no end names them any more. */
  remove(files: readonly string[]): Promise<void>;
  close(): Promise<void>;
}

export function missingPhoto(message: string, cause?: unknown): LogError {
  return new LogError('unknown-photo', message, { cause });
}

export function damagedPhoto(file: string): LogError {
  return new LogError(
    'damaged-photo',
    ENGLISH.say('The photo {file} was damaged or altered on the disk: put back a copy of it.', {
      file,
    }),
  );
}

export function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
