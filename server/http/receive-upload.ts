import { randomUUID } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { mkdir, rm } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Readable } from 'node:stream';
import busboy from 'busboy';
import { fileTooLarge } from '../decode/decode-photo.ts';
import { MAX_FILE_BYTES } from '../decode/limits.ts';
import { HttpError } from './http-error.ts';

/** Longest text field, bytes. */
const MAX_FIELD_BYTES = 256 * 1024;

export interface Upload {
  /** Paths of the received files by field name, under names of our own. */
  readonly files: ReadonlyMap<string, string>;
  readonly fields: ReadonlyMap<string, string>;
  /** Removes the files. */
  readonly discard: () => Promise<void>;
}

export interface UploadOptions {
  /** Where files are put while the request lasts. */
  readonly folder: string;
  /** Field names that may carry a file. */
  readonly fileFields: readonly string[];
  readonly maxFileBytes?: number;
}

/**
 * Receives a multipart form, files straight to disk. Names and types that the client declares are not
 * looked at.
 * @throws HttpError, PhotoError
 */
export async function receiveUpload(
  request: IncomingMessage,
  { folder, fileFields, maxFileBytes = MAX_FILE_BYTES }: UploadOptions,
): Promise<Upload> {
  const own = join(folder, randomUUID());
  const discard = () => rm(own, { recursive: true, force: true });
  await mkdir(own, { recursive: true, mode: 0o700 });
  try {
    const received = await receive(request, own, fileFields, maxFileBytes);
    return { ...received, discard };
  } catch (error) {
    await discard();
    throw error;
  }
}

function receive(
  request: IncomingMessage,
  folder: string,
  fileFields: readonly string[],
  maxFileBytes: number,
): Promise<Pick<Upload, 'files' | 'fields'>> {
  const files = new Map<string, string>();
  const fields = new Map<string, string>();
  const writes: Promise<void>[] = [];
  let parser: busboy.Busboy;
  try {
    parser = busboy({
      headers: request.headers,
      limits: {
        fileSize: maxFileBytes,
        files: fileFields.length,
        fields: 8,
        parts: fileFields.length + 8,
        fieldSize: MAX_FIELD_BYTES,
        fieldNameSize: 40,
        headerPairs: 20,
      },
    });
  } catch {
    throw new HttpError(415, 'bad-request', 'Send the photo as a multipart form.');
  }
  return new Promise((resolve, reject) => {
    const fail = (error: Error) => {
      request.unpipe(parser);
      // What the client still sends is let through to nowhere, so that it gets to read the answer.
      request.resume();
      reject(error);
    };
    const tooMany = () =>
      fail(new HttpError(413, 'too-large', 'The form has more parts than expected.'));
    parser.on('file', (name, stream: Readable & { truncated?: boolean }) => {
      if (!fileFields.includes(name) || files.has(name)) {
        stream.resume();
        fail(new HttpError(400, 'bad-request', `No file is expected under "${name}".`));
        return;
      }
      const path = join(folder, String(files.size));
      files.set(name, path);
      stream.on('limit', () => fail(fileTooLarge()));
      writes.push(pipeline(stream, createWriteStream(path, { mode: 0o600 })));
      writes.at(-1)!.catch((error: unknown) => fail(error as Error));
    });
    parser.on('field', (name, value, { valueTruncated, nameTruncated }) => {
      if (valueTruncated || nameTruncated) {
        fail(new HttpError(413, 'too-large', `The field "${name}" is longer than allowed.`));
      }
      fields.set(name, value);
    });
    parser.on('filesLimit', tooMany);
    parser.on('fieldsLimit', tooMany);
    parser.on('partsLimit', tooMany);
    parser.on('error', () => {
      fail(new HttpError(400, 'bad-request', 'The form broke off or is not well formed.'));
    });
    parser.on('close', () => {
      Promise.all(writes).then(() => resolve({ files, fields }), reject);
    });
    request.on('aborted', () => {
      parser.destroy();
      reject(new HttpError(400, 'broken-off', 'The upload broke off.'));
    });
    request.pipe(parser);
  });
}
