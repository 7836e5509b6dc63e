import { readFileSync } from 'node:fs';

/**
 * Resident memory of the processes that this one started, MB by Linux' own account: what they hold now
 * (`VmRSS`), or the most that they have held (`VmHWM`).
 */
export function memoryOfChildren(which: 'VmRSS' | 'VmHWM'): number {
  const children = readFileSync(`/proc/self/task/${process.pid}/children`, 'utf8');
  const kilobytes = children
    .trim()
    .split(' ')
    .map((pid) => {
      const status = readFileSync(`/proc/${pid}/status`, 'utf8');
      return Number(new RegExp(`${which}:\\s+(\\d+)`).exec(status)?.[1] ?? 0);
    });
  return Math.round(kilobytes.reduce((sum, kb) => sum + kb, 0) / 1000);
}
