import { explainStorage } from './explain-storage.ts';
import { Log } from './log.ts';
import { LogError } from './log-error.ts';
import { takeArchiveIn, type TakenIn } from './take-archive-in.ts';
import type { Actor } from './trail.ts';

export interface ImportJob {
  /** Of the log that is filled. */
  readonly address: string;
  /** Of the archive. */
  readonly path: string;
  /** Who takes it in. */
  readonly by: Actor;
}

/** What became of an import. Plain data: it crosses to the main process. */
export type Imported =
  | ({ readonly ok: true } & TakenIn)
  | { readonly ok: false; readonly code: string; readonly message: string };

/** Takes one archive into a log, which this process opens for itself. */
export default async function run({ address, path, by }: ImportJob): Promise<Imported> {
  try {
    const log = await Log.open(address);
    try {
      return { ok: true, ...(await takeArchiveIn(log, path, by)) };
    } finally {
      await log.close();
    }
  } catch (error) {
    const explained = explainStorage(error);
    if (!(explained instanceof LogError)) throw error;
    return { ok: false, code: explained.code, message: explained.message };
  }
}
