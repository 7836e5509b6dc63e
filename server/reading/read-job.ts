import { beforeHelps, wouldGainByBefore } from '../../src/evening/before-helps.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { decodePhoto, type DecodedPhoto } from '../decode/decode-photo.ts';
import type { PhotoSource } from '../decode/photo-source.ts';
import { photoBytes } from '../decode/read-photo-file.ts';
import { explainFailure, type Failure } from './explain-failure.ts';
import type { PhotoReader } from './photo-reader.ts';
import type { ReadingJob } from './reading-job.ts';

/** What became of a job. Plain data: it crosses from the worker to the main thread. */
export type Outcome = {
  /** Decode to reading. */
  readonly elapsedMs: number;
  /** By the camera's own clock, ISO 8601 without a zone. */
  readonly takenAt?: string;
} & (
  | {
      readonly ok: true;
      readonly reading: Reading;
      /** The job's earlier photo was taken as the one from before the end. */
      readonly usedEarlier?: true;
    }
  | { readonly ok: false; readonly error: Failure }
);

export interface ReadJobOptions {
  readonly signal?: AbortSignal;
}

/**
 * Decodes and reads one photo. Never throws for a reason that lies in the photo: the outcome says so.
 * @param reader starts loading before the first pixel is decoded, hence a promise
 */
export async function readJob(
  job: ReadingJob,
  reader: Promise<PhotoReader>,
  options: ReadJobOptions = {},
): Promise<Outcome> {
  const start = performance.now();
  let takenAt: string | undefined;
  const rest = () => ({
    elapsedMs: Math.round(performance.now() - start),
    ...(takenAt === undefined ? {} : { takenAt }),
  });
  try {
    const [photo, before, also] = await Promise.all([
      decode(job.photo),
      job.before ? decode(job.before).catch(blame('Photo from before the end')) : undefined,
      job.also ? decode(job.also).catch(blame('Second photo of the end')) : undefined,
    ]);
    takenAt = photo.takenAt;
    const read = await reader;
    const about = { ...options, sizes: job.sizes, ...(also ? { also } : {}) };
    const reading = await read(photo, job.request, { ...about, ...(before ? { before } : {}) });
    if (before === undefined && job.earlier && wouldGainByBefore(reading.marks, job.request)) {
      const earlier = job.earlier;
      const against = await decode(earlier)
        .then((decoded) => read(photo, job.request, { ...about, before: decoded }))
        // Another face, or no photo at all: then it is none from before.
        .catch(() => null);
      if (against && beforeHelps(against.marks, reading.marks, job.request)) {
        return { ...rest(), ok: true, reading: withNotes(against, photo.notes), usedEarlier: true };
      }
    }
    return { ...rest(), ok: true, reading: withNotes(reading, photo.notes) };
  } catch (error) {
    return { ...rest(), ok: false, error: explainFailure(error) };
  }
}

async function decode(source: PhotoSource): Promise<DecodedPhoto> {
  return decodePhoto('path' in source ? await photoBytes(source.path) : source.bytes);
}

/** Says in the error which of the photos it is of. */
function blame(which: string): (error: unknown) => never {
  return (error) => {
    if (error instanceof Error) error.message = `${which}: ${error.message}`;
    throw error;
  };
}

function withNotes(reading: Reading, notes: readonly string[]): Reading {
  return { ...reading, fit: { ...reading.fit, notes: [...reading.fit.notes, ...notes] } };
}
