import type { ExportableLog } from '../../../server/log/export-log.ts';
import type { LogRecord } from '../../../server/log/read-records.ts';

/** All that can be read of a log. */
export async function whatIsThere(log: Pick<ExportableLog, 'readRecords'>) {
  const placed: LogRecord[] = [];
  const missing: string[] = [];
  await log.readRecords(() => ({
    record: (one) => void (one.isPlaced && placed.push(one)),
    missing: (sentence) => void missing.push(sentence),
  }));
  return {
    ends: placed.flatMap((one) => (one.kind === 'ends' ? [one.record] : [])),
    sessions: placed.flatMap((one) => (one.kind === 'sessions' ? [one.record] : [])),
    missing,
  };
}
