import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';

/** A process and those that it started, as Linux lists them. */
export function family(pid: number): number[] {
  const parents = new Map<number, number>();
  for (const name of readdirSync('/proc')) {
    const parent = /^\d+$/.test(name) ? Number(fieldsOf(Number(name))[1]) : NaN;
    if (parent > 0) parents.set(Number(name), parent);
  }
  const found = [pid];
  for (const one of found) {
    for (const [child, parent] of parents) if (parent === one) found.push(child);
  }
  return found;
}

/** The most memory that a process has held, bytes. */
export function peakOf(pid: number): number {
  try {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    return Number(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? 0) * 1024;
  } catch {
    return 0;
  }
}

const TICKS_A_SECOND = Number(execFileSync('getconf', ['CLK_TCK'], { encoding: 'utf8' }));

/** CPU time of processes and of what they started, ended ones included, s. */
export function cpuSeconds(pids: readonly number[]): number {
  let ticks = 0;
  for (const pid of pids.flatMap(family)) {
    const fields = fieldsOf(pid);
    // Own time in user and system mode, and that of children that have ended.
    for (const field of [11, 12, 13, 14]) ticks += Number(fields[field] ?? 0);
  }
  return ticks / TICKS_A_SECOND;
}

/** CPU time of one process, what it has started left out, s; 0 of a process that is gone. */
export function ownCpuSeconds(pid: number): number {
  const fields = fieldsOf(pid);
  return (Number(fields[11] ?? 0) + Number(fields[12] ?? 0)) / TICKS_A_SECOND;
}

/** With its arguments, by null bytes between; empty of a process that is gone. */
export function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8');
  } catch {
    return '';
  }
}

/** Of /proc/PID/stat after the name; none of a process that is gone. */
function fieldsOf(pid: number): string[] {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  } catch {
    return [];
  }
}
