import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { randomUUID } from 'node:crypto';
import { json, Router, type Request, type Response } from 'express';
import { z } from 'zod';
import {
  archerSchema,
  endSchema,
  sessionSchema,
  type End,
} from '../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';
import { exportLog } from '../log/export-log.ts';
import { importLog } from '../log/import-log.ts';
import { arrowsCsv, endsCsv } from '../../src/tables/log-csv.ts';
import type { Log } from '../log/log.ts';
import { versionOfBow, versionOfEnd, versionOfSetUp, type Expected } from '../log/version-of.ts';
import { readBow } from '../log/read-bow.ts';
import { HttpError } from './http-error.ts';
import { jsonField } from './json-field.ts';
import { LogAccess } from './log-access.ts';
import { receiveUpload } from './receive-upload.ts';

export interface LogRoutesDeps {
  readonly log: Log;
  readonly uploadFolder: string;
  /** Whose part of the log a request may see; null is everything. */
  readonly archerOf: (response: Response) => string | null;
}

/** Largest archive that is taken over HTTP. */
const MAX_ARCHIVE_BYTES = 1024 * 1024 * 1024;

/**
 * /log/...: lists by GET; one thing by PUT under its id, as often as a client likes; an end as JSON, or
 * as a form with the field `end` and the file `photo`.
 */
export function logRoutes({ log, uploadFolder, archerOf }: LogRoutesDeps): Router {
  const router = Router();
  const access = (response: Response) => new LogAccess(log, archerOf(response));
  const body = json({ limit: '512kb' });

  router.get('/log/archers', async (_request, response) => {
    response.json(await access(response).archers());
  });
  router.put('/log/archers/:id', body, async (request, response) => {
    await access(response).putArcher(sentUnder(request, archerSchema));
    response.status(204).end();
  });
  router.delete('/log/archers/:id', async (request, response) => {
    const gone = await access(response).deleteArcher(request.params.id);
    response.json({
      ...gone,
      message: `The archer is deleted, with ${gone.ends} ends and ${gone.photos} photos.`,
    });
  });

  router.get('/log/bows', async (_request, response) => {
    response.json(await access(response).bows());
  });
  router.get('/log/bows/:id', async (request, response) => {
    const bow = await access(response).bow(request.params.id);
    response.set('ETag', etag(versionOfBow(bow))).json(bow);
  });
  router.put('/log/bows/:id', body, async (request, response) => {
    const bow = sentUnder(request, bowSchema);
    const version = await access(response).putBow(bow, expectedBy(request));
    response.set('ETag', etag(version)).status(204).end();
  });
  router.delete('/log/bows/:id', async (request, response) => {
    await access(response).deleteBow(request.params.id, expectedBy(request));
    response.status(204).end();
  });
  router.get('/log/bows/:id/reading', async (request, response) => {
    const { setUp } = z.object({ setUp: z.string().max(80).optional() }).parse(request.query);
    response.json(readBow(await access(response).bowLog(request.params.id), { setUpId: setUp }));
  });

  router.get('/log/set-ups', async (_request, response) => {
    response.json(await access(response).setUps());
  });
  router.get('/log/set-ups/:id', async (request, response) => {
    const setUp = await access(response).setUp(request.params.id);
    response.set('ETag', etag(versionOfSetUp(setUp))).json(setUp);
  });
  router.put('/log/set-ups/:id', body, async (request, response) => {
    const setUp = sentUnder(request, setUpSchema);
    const version = await access(response).putSetUp(setUp, expectedBy(request));
    response.set('ETag', etag(version)).status(204).end();
  });
  router.delete('/log/set-ups/:id', async (request, response) => {
    await access(response).deleteSetUp(request.params.id, expectedBy(request));
    response.status(204).end();
  });

  router.get('/log/sessions', async (_request, response) => {
    response.json(await access(response).sessions());
  });
  router.put('/log/sessions/:id', body, async (request, response) => {
    await access(response).putSession(sentUnder(request, sessionSchema));
    response.status(204).end();
  });

  router.get('/log/ends', async (_request, response) => {
    response.json(await access(response).ends());
  });
  router.get('/log/ends/:id', async (request, response) => {
    const end = await access(response).end(request.params.id);
    response.set('ETag', etag(versionOfEnd(end))).json(end);
  });
  router.put('/log/ends/:id', body, async (request, response) => {
    const expected = expectedBy(request);
    const answer = (end: End) => response.set('ETag', etag(versionOfEnd(end))).json(end);
    if (request.is('multipart/form-data') === false) {
      const end = sentUnder(request, endSchema);
      answer(await access(response).putEnd(end, undefined, expected));
      return;
    }
    const upload = await receiveUpload(request, { folder: uploadFolder, fileFields: ['photo'] });
    const keep = () => {
      const end = sameId(request, jsonField(upload.fields, 'end', endSchema));
      const photo = upload.files.get('photo');
      const place = photo === undefined ? undefined : { path: photo };
      return access(response).putEnd(end, place, expected);
    };
    answer(await keep().finally(upload.discard));
  });
  router.delete('/log/ends/:id', async (request, response) => {
    await access(response).deleteEnd(request.params.id, expectedBy(request));
    response.status(204).end();
  });
  router.get('/log/ends/:id/photo', async (request, response) => {
    response.type('image/jpeg').send(await access(response).photo(request.params.id));
  });

  router.get('/log/ends.csv', async (_request, response) => {
    const csv = endsCsv(await access(response).everything());
    response.attachment('endwise-ends.csv').type('text/csv').send(csv);
  });
  router.get('/log/arrows.csv', async (_request, response) => {
    const csv = arrowsCsv(await access(response).everything());
    response.attachment('endwise-arrows.csv').type('text/csv').send(csv);
  });
  router.get('/log/export', async (_request, response) => {
    const path = join(uploadFolder, `${randomUUID()}.zip`);
    const { archerId } = access(response);
    await exportLog(log, path, archerId === null ? {} : { archerId });
    response.download(path, 'endwise-log.zip', { dotfiles: 'allow' }, () => {
      void rm(path, { force: true });
    });
  });
  router.post('/log/import', async (request, response) => {
    access(response).needAll();
    const upload = await receiveUpload(request, {
      folder: uploadFolder,
      fileFields: ['archive'],
      maxFileBytes: MAX_ARCHIVE_BYTES,
    });
    const archive = upload.files.get('archive');
    const take = async () => {
      if (archive === undefined) {
        throw new HttpError(400, 'bad-request', 'The form has no file under "archive".');
      }
      return importLog(log, archive);
    };
    response.json(await take().finally(upload.discard));
  });
  return router;
}

const etag = (version: string) => `"${version}"`;

/** What the log must hold now, by the usual headers: `If-Match: "version"`, or `If-None-Match: *`. */
function expectedBy(request: Request): Expected {
  const match = request.get('if-match');
  if (match !== undefined) return match.replace(/^"|"$/g, '');
  return request.get('if-none-match') === '*' ? null : undefined;
}

function sentUnder<T extends { id: string }>(request: Request, schema: z.ZodType<T>): T {
  return sameId(request, schema.parse(request.body ?? {}));
}

function sameId<T extends { id: string }>(request: Request, thing: T): T {
  if (thing.id !== request.params['id']) {
    throw new HttpError(400, 'bad-request', 'The id in the address is not the one that was sent.');
  }
  return thing;
}
