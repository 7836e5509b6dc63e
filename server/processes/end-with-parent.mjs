import process from 'node:process';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import { URL } from 'node:url';

const LOOK_EVERY_MS = 500;

/**
 * Kills this process when the one that started it is gone. A thread of its own looks: the main one may
 * hang in a photo, and then hears nothing.
 */
export function endWithParent() {
  // It must not keep the process alive.
  new Worker(new URL(import.meta.url), { execArgv: [], argv: [String(process.ppid)] }).unref();
}

if (!isMainThread && parentPort !== null) {
  const parent = Number(process.argv[2]);
  const waiting = new Int32Array(new SharedArrayBuffer(4));
  while (isAlive(parent)) Atomics.wait(waiting, 0, 0, LOOK_EVERY_MS);
  process.kill(process.pid, 'SIGKILL');
}

/** An orphan is given another parent, except on Windows. */
function isAlive(parent) {
  if (process.ppid !== parent) return false;
  try {
    process.kill(parent, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}
