import { join } from 'node:path';
import type { Reading } from '../../src/reading/reading.ts';
import { readingRequestSchema } from '../../src/request/request.ts';
import { decodePhoto } from '../../server/decode/decode-photo.ts';
import { photoBytes } from '../../server/decode/read-photo-file.ts';
import type { PhotoReader } from '../../server/reading/photo-reader.ts';
import { scoreReading, type ReadingScore } from './score-reading.ts';
import { requestAsSaid, type Truth } from './truth.ts';

export interface TruthResult {
  readonly truth: Truth;
  readonly outcome:
    | { readonly ok: true; readonly reading: Reading; readonly score: ReadingScore }
    | { readonly ok: false; readonly message: string };
  readonly decodeMs: number;
  readonly readMs: number;
}

/** Reads the photos of a folder with what people say of them, and scores each. */
export async function* readTruths(
  folder: string,
  truths: readonly Truth[],
  reader: PhotoReader,
): AsyncGenerator<TruthResult> {
  for (const truth of truths) {
    const request = readingRequestSchema.parse(requestAsSaid(truth));
    const start = performance.now();
    const photo = await decodePhoto(await photoBytes(join(folder, truth.photo)));
    const decoded = performance.now();
    try {
      const before = truth.pairOf
        ? { before: await decodePhoto(await photoBytes(join(folder, truth.pairOf))) }
        : {};
      const also = truth.also
        ? { also: await decodePhoto(await photoBytes(join(folder, truth.also))) }
        : {};
      const reading = await reader(photo, request, { ...before, ...also });
      const score = scoreReading(truth, reading);
      yield { truth, outcome: { ok: true, reading, score }, ...times(start, decoded) };
    } catch (error) {
      const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
      yield { truth, outcome: { ok: false, message }, ...times(start, decoded) };
    }
  }
}

function times(start: number, decoded: number) {
  return { decodeMs: decoded - start, readMs: performance.now() - decoded };
}
