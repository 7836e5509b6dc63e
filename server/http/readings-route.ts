import { Router, type Response } from 'express';
import { readingRequestSchema } from '../../src/request/request.ts';
import type { UsedLog } from '../../src/reading/reading.ts';
import { knownOfArcher, photoSha256, shooterSchema } from '../log/known-of-archer.ts';
import type { Outcome } from '../reading/read-job.ts';
import { judgeWithLog } from '../reading/judge-with-log.ts';
import type { PoolReadOptions } from '../reading/reading-pool.ts';
import { shotAt } from '../reading/shot-at.ts';
import { archerOf } from './access-rules.ts';
import type { AppDeps } from './app-deps.ts';
import { HttpError } from './http-error.ts';
import { jsonField } from './json-field.ts';
import { LogAccess } from './log-access.ts';
import { receiveUpload, type Upload } from './receive-upload.ts';
import { statusOfFailure } from './status-of-failure.ts';

const STREAM_TYPE = 'application/x-ndjson';

/**
 * POST /readings: a form with the file `photo`, optionally the files `before` and `also`, and optionally the field
 * `request` as JSON, which may name the log's `archer`, `bow` and `setUp`: then the reading is judged
 * with what the log knows of them. Answers with the result. A client that accepts
 * application/x-ndjson gets a line `{"ahead": n}` whenever its place in the queue changes, and the
 * result as the last line. A client that goes away leaves the queue.
 */
export function readingsRoute(
  deps: Pick<AppDeps, 'pool' | 'sizes' | 'uploadFolder' | 'log'>,
): Router {
  const router = Router();
  router.post('/readings', async (request, response) => {
    const upload = await receiveUpload(request, {
      folder: deps.uploadFolder,
      fileFields: ['photo', 'before', 'also'],
    });
    const streams = request.accepts(['application/json', STREAM_TYPE]) === STREAM_TYPE;
    const access = new LogAccess(deps.log, archerOf(response));
    const outcome = await readUpload(
      upload,
      { ...deps, access },
      {
        signal: goneSignal(response),
        ...(streams ? { onAhead: tellAhead(response) } : {}),
      },
    ).finally(upload.discard);
    answer(response, outcome);
  });
  return router;
}

async function readUpload(
  { files, fields }: Upload,
  { pool, sizes, access }: Pick<AppDeps, 'pool' | 'sizes'> & { readonly access: LogAccess },
  options: PoolReadOptions,
): Promise<Outcome & { log?: UsedLog }> {
  const photo = files.get('photo');
  if (photo === undefined) {
    throw new HttpError(400, 'bad-request', 'The form has no file under "photo".');
  }
  const before = files.get('before');
  const also = files.get('also');
  const { archer, bow, setUp, ...request } = jsonField(
    fields,
    'request',
    readingRequestSchema.extend(shooterSchema.shape),
  );
  const known =
    archer === undefined && bow === undefined
      ? null
      : await knownOfArcher(access, { archer, bow, setUp }, await photoSha256(photo));
  const outcome = await pool.read(
    {
      photo: { path: photo },
      ...(before === undefined ? {} : { before: { path: before } }),
      ...(also === undefined ? {} : { also: { path: also } }),
      request,
      sizes: await sizes(),
    },
    options,
  );
  return known === null ? outcome : judgeWithLog(outcome, request, known, shotAt(outcome.takenAt));
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
