import { ProcessPool } from '../processes/process-pool.ts';
import type { Imported, ImportJob } from './import-worker.ts';
import type { Log } from './log.ts';
import { LogError, type LogErrorCode } from './log-error.ts';
import type { TakenIn } from './take-archive-in.ts';
import { COMMAND_LINE, type Actor } from './trail.ts';

/**
 * JavaScript heap of the process that takes an archive in, MB. What an archive may hold fits; what is
 * made to grow beyond ends that process alone.
 */
const HEAP_MB = 1024;

/** A coach's archive with thousands of photos is decoded within this, hours. */
const LIMIT_HOURS = 2;

/**
 * Fills an empty log from an archive, in a process of its own. Everything is checked before anything
 * is kept: an archive that breaks off, lacks a photo or was altered is refused and the log stays empty.
 * @throws LogError
 */
export async function importLog(
  log: Log,
  path: string,
  { deviceId, label, role }: Actor = COMMAND_LINE,
): Promise<TakenIn> {
  const pool = new ProcessPool<ImportJob, Imported>({
    module: new URL('./import-worker.ts', import.meta.url),
    processes: 1,
    heapMb: HEAP_MB,
    idleMs: 0,
  });
  const signal = AbortSignal.timeout(LIMIT_HOURS * 3600_000);
  let imported: Imported;
  try {
    imported = await pool.run(
      { address: log.address, path, by: { deviceId, label, role } },
      { signal },
    );
  } catch (cause) {
    throw new LogError(
      'bad-archive',
      'The archive cannot be imported: taking it in brought its process down, as an archive does that is larger than it says.',
      { cause },
    );
  } finally {
    await pool.close();
  }
  if (!imported.ok) throw new LogError(imported.code as LogErrorCode, imported.message);
  const { ends, photos, madeUp } = imported;
  return { ends, photos, madeUp };
}
