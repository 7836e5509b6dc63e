import { createHash } from 'node:crypto';
import { photoBytes } from '../decode/read-photo-file.ts';
import { photosSha256 } from '../reading/photos-sha256.ts';
import type { Outcome } from '../reading/read-job.ts';
import { PHOTOS_OF_JOB, type ReadingJob } from '../reading/reading-job.ts';
import { URGENCY, type Readings } from '../reading/readings.ts';
import type { ManifestRow } from './manifest.ts';

export interface ReadByReadingsOptions {
  /**
   * Others read, on machines of their own: photos are sent, and what an interrupted batch had handed in
   * is found again by photos and request, and not read twice. When aborted, what is not read yet is
   * cancelled. @default photos stay where they are
   */
  readonly elsewhere?: AbortSignal | undefined;
  /** Whose a row's end is: its photo goes with them. @default nobody's */
  readonly archerOf?: ((row: ManifestRow) => string | null) | undefined;
}

/** Reads the photos of a batch, after those that somebody waits for. */
export function readByReadings(
  readings: Readings,
  { elsewhere, archerOf }: ReadByReadingsOptions = {},
): (job: ReadingJob, row: ManifestRow) => Promise<Outcome> {
  const turns = new Map<string, number>();
  const keyOf = async (job: ReadingJob) => {
    const content = createHash('sha256')
      .update(await photosSha256(job))
      .update(JSON.stringify([job.request, job.sizes]))
      .digest('hex');
    // The same photo may stand in a batch twice.
    const turn = turns.get(content) ?? 0;
    turns.set(content, turn + 1);
    return `batch:${content}:${turn}`;
  };
  const submit = async (job: ReadingJob, row: ManifestRow) => {
    const sent = elsewhere ? await withBytes(job) : job;
    return readings.submit({
      job: sent,
      by: { deviceId: null, archerId: null },
      urgency: URGENCY.background,
      key: elsewhere ? await keyOf(sent) : undefined,
      ofArcher: archerOf?.(row) ?? undefined,
    });
  };
  let handing: Promise<unknown> = Promise.resolve();
  return async (job, row) => {
    // One after the other, since photos are large.
    const mine = handing.then(() => submit(job, row));
    handing = mine.catch(() => undefined);
    const id = await mine;
    try {
      const found = await readings.follow(id, elsewhere ? { signal: elsewhere } : {});
      if (found?.standing.state !== 'read') throw new Error('The job was dropped.');
      await readings.fetched(id);
      return found.standing.outcome;
    } catch (error) {
      if (elsewhere?.aborted) await readings.drop(id);
      throw error;
    }
  };
}

/** @throws PhotoError for a photo that is not there, or too large */
async function withBytes(job: ReadingJob): Promise<ReadingJob> {
  const sent = { ...job };
  for (const name of PHOTOS_OF_JOB) {
    const source = job[name];
    if (source === undefined || !('path' in source)) continue;
    try {
      sent[name] = { bytes: new Uint8Array(await photoBytes(source.path)) };
    } catch (error) {
      // Nobody said that it belongs to this end.
      if (name !== 'earlier') throw error;
      delete sent.earlier;
    }
  }
  return sent;
}
