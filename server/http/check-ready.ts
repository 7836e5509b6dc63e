import type { Readings } from '../reading/readings.ts';
import { checkInTime } from '../watch/check-in-time.ts';
import type { AppDeps } from './app-deps.ts';
import { HttpError } from './http-error.ts';

/** Whether visitors may be sent here. @throws HttpError that says why not */
export async function checkReady({
  readings,
  webFolder,
  closing,
}: Pick<AppDeps, 'webFolder' | 'closing'> & {
  readonly readings: Pick<Readings, 'check'>;
}): Promise<void> {
  if (closing?.aborted) throw notReady('This server ends: another one answers.');
  if (webFolder === null) throw notReady('The page is not built: npm run build builds it.');
  await checkInTime(() => readings.check()).catch(() => {
    throw notReady('The database cannot be reached.');
  });
}

function notReady(message: string): HttpError {
  return new HttpError(503, 'not-ready', message);
}
