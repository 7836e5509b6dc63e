import { Router, type Response } from 'express';
import { readingRequestSchema } from '../../src/reading/request.ts';
import type { Outcome } from '../reading/read-job.ts';
import type { PoolReadOptions } from '../reading/reading-pool.ts';
import type { AppDeps } from './create-app.ts';
import { HttpError } from './http-error.ts';
import { jsonField } from './json-field.ts';
import { receiveUpload, type Upload } from './receive-upload.ts';
import { statusOfFailure } from './status-of-failure.ts';

const STREAM_TYPE = 'application/x-ndjson';

/**
 * POST /readings: a form with the file `photo`, optionally the file `before`, and optionally the field
 * `request` as JSON. Answers with the result. A client that accepts application/x-ndjson gets a
 * line `{"ahead": n}` whenever its place in the queue changes, and the result as the last line. A
 * client that goes away leaves the queue.
 */
export function readingsRoute(deps: Pick<AppDeps, 'pool' | 'sizes' | 'uploadFolder'>): Router {
  const router = Router();
  router.post('/readings', async (request, response) => {
    const upload = await receiveUpload(request, {
      folder: deps.uploadFolder,
      fileFields: ['photo', 'before'],
    });
    const streams = request.accepts(['application/json', STREAM_TYPE]) === STREAM_TYPE;
    const outcome = await readUpload(upload, deps, {
      signal: goneSignal(response),
      ...(streams ? { onAhead: tellAhead(response) } : {}),
    }).finally(upload.discard);
    answer(response, outcome);
  });
  return router;
}

async function readUpload(
  { files, fields }: Upload,
  { pool, sizes }: Pick<AppDeps, 'pool' | 'sizes'>,
  options: PoolReadOptions,
): Promise<Outcome> {
  const photo = files.get('photo');
  if (photo === undefined) {
    throw new HttpError(400, 'bad-request', 'The form has no file under "photo".');
  }
  const before = files.get('before');
  const request = jsonField(fields, 'request', readingRequestSchema);
  return pool.read(
    {
      photo: { path: photo },
      ...(before === undefined ? {} : { before: { path: before } }),
      request,
      sizes: await sizes(),
    },
    options,
  );
}

function goneSignal(response: Response): AbortSignal {
  const gone = new AbortController();
  response.on('close', () => {
    if (!response.writableFinished) gone.abort(new HttpError(499, 'gone', 'The client left.'));
  });
  return gone.signal;
}

function tellAhead(response: Response): (ahead: number) => void {
  return (ahead) => {
    if (!response.headersSent) response.status(200).type(STREAM_TYPE);
    response.write(JSON.stringify({ ahead }) + '\n');
  };
}

function answer(response: Response, outcome: Outcome): void {
  const result = { photo: 'photo', ...outcome };
  if (response.headersSent) {
    response.end(JSON.stringify(result) + '\n');
    return;
  }
  if (outcome.ok) response.json(result);
  else response.status(statusOfFailure(outcome.error.code)).json({ error: outcome.error });
}
