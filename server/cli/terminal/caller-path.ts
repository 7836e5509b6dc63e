import { resolve } from 'node:path';

/** A path as the caller meant it: `npm run` changes into the checkout and leaves the caller's folder here. */
export function callerPath(path: string): string {
  const npmRan = process.env['npm_lifecycle_event'] === 'endwise';
  const from = npmRan ? process.env['INIT_CWD'] : undefined;
  return resolve(from ?? process.cwd(), path);
}
