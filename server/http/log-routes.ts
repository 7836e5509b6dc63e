import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { randomUUID } from 'node:crypto';
import { json, type Request } from 'express';
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
import { versionOfBow, versionOfEnd, versionOfSetUp, type Expected } from '../log/version-of.ts';
import { readBow } from '../log/read-bow.ts';
import type { AppDeps } from './app-deps.ts';
import type { Gate, GuardedRoutes } from './guarded-routes.ts';
import { HttpError } from './http-error.ts';
import { jsonField } from './json-field.ts';
import { LogAccess } from './log-access.ts';
import { receiveUpload } from './receive-upload.ts';

type Deps = Pick<AppDeps, 'log' | 'uploadFolder' | 'readings'>;

/** Largest archive that is taken over HTTP. */
const MAX_ARCHIVE_BYTES = 1024 * 1024 * 1024;

/**
 * /log/...: lists by GET; one thing by PUT under its id, as often as a client likes; an end as JSON, or
 * as a form with the field `end` and the file `photo`.
 */
export function addLogRoutes(routes: GuardedRoutes, { log, uploadFolder, readings }: Deps): void {
  const access = (gate: Gate) => new LogAccess(log, gate);
  const body = json({ limit: '512kb' });

  routes.get('/log/archers', 'see-record', async (_request, response, gate) => {
    response.json(await access(gate).archers());
  });
  routes.put('/log/archers/:id', 'keep-record', body, async (request, response, gate) => {
    await access(gate).putArcher(sentUnder(request, archerSchema));
    response.status(204).end();
  });
  routes.delete('/log/archers/:id', 'delete-archer', async (request, response, gate) => {
    const id = idIn(request);
    const gone = await access(gate).deleteArcher(id);
    // Photos of theirs that wait in a database went with them.
    await readings.dropOf(id).catch(() => 0);
    response.json({
      ...gone,
      message: `The archer is deleted, with ${gone.ends} ends and ${gone.photos} photos.`,
    });
  });

  routes.get('/log/bows', 'see-record', async (_request, response, gate) => {
    response.json(await access(gate).bows());
  });
  routes.get('/log/bows/:id', 'see-record', async (request, response, gate) => {
    const bow = await access(gate).bow(idIn(request));
    response.set('ETag', etag(versionOfBow(bow))).json(bow);
  });
  routes.put('/log/bows/:id', 'keep-record', body, async (request, response, gate) => {
    const bow = sentUnder(request, bowSchema);
    const version = await access(gate).putBow(bow, expectedBy(request));
    response.set('ETag', etag(version)).status(204).end();
  });
  routes.delete('/log/bows/:id', 'delete-record', async (request, response, gate) => {
    await access(gate).deleteBow(idIn(request), expectedBy(request));
    response.status(204).end();
  });
  routes.get('/log/bows/:id/reading', 'see-record', async (request, response, gate) => {
    const { setUp } = z.object({ setUp: z.string().max(80).optional() }).parse(request.query);
    response.json(readBow(await access(gate).bowLog(idIn(request)), { setUpId: setUp }));
  });

  routes.get('/log/set-ups', 'see-record', async (_request, response, gate) => {
    response.json(await access(gate).setUps());
  });
  routes.get('/log/set-ups/:id', 'see-record', async (request, response, gate) => {
    const setUp = await access(gate).setUp(idIn(request));
    response.set('ETag', etag(versionOfSetUp(setUp))).json(setUp);
  });
  routes.put('/log/set-ups/:id', 'keep-record', body, async (request, response, gate) => {
    const setUp = sentUnder(request, setUpSchema);
    const version = await access(gate).putSetUp(setUp, expectedBy(request));
    response.set('ETag', etag(version)).status(204).end();
  });
  routes.delete('/log/set-ups/:id', 'delete-record', async (request, response, gate) => {
    await access(gate).deleteSetUp(idIn(request), expectedBy(request));
    response.status(204).end();
  });

  routes.get('/log/sessions', 'see-record', async (_request, response, gate) => {
    response.json(await access(gate).sessions());
  });
  routes.put('/log/sessions/:id', 'keep-record', body, async (request, response, gate) => {
    await access(gate).putSession(sentUnder(request, sessionSchema));
    response.status(204).end();
  });

  routes.get('/log/ends', 'see-record', async (_request, response, gate) => {
    response.json(await access(gate).ends());
  });
  routes.get('/log/ends/:id', 'see-record', async (request, response, gate) => {
    const end = await access(gate).end(idIn(request));
    response.set('ETag', etag(versionOfEnd(end))).json(end);
  });
  routes.put('/log/ends/:id', 'keep-record', body, async (request, response, gate) => {
    const expected = expectedBy(request);
    const answer = (end: End) => response.set('ETag', etag(versionOfEnd(end))).json(end);
    if (request.is('multipart/form-data') === false) {
      const end = sentUnder(request, endSchema);
      answer(await access(gate).putEnd(end, undefined, expected));
      return;
    }
    const upload = await receiveUpload(request, { folder: uploadFolder, fileFields: ['photo'] });
    const keep = () => {
      const end = sameId(request, jsonField(upload.fields, 'end', endSchema));
      const photo = upload.files.get('photo');
      const place = photo === undefined ? undefined : { path: photo };
      return access(gate).putEnd(end, place, expected);
    };
    answer(await keep().finally(upload.discard));
  });
  routes.delete('/log/ends/:id', 'delete-record', async (request, response, gate) => {
    await access(gate).deleteEnd(idIn(request), expectedBy(request));
    response.status(204).end();
  });
  routes.get('/log/ends/:id/photo', 'see-record', async (request, response, gate) => {
    response.type('image/jpeg').send(await access(gate).photo(idIn(request)));
  });

  routes.get('/log/ends.csv', 'see-record', async (_request, response, gate) => {
    const csv = endsCsv(await access(gate).everything());
    response.attachment('endwise-ends.csv').type('text/csv').send(csv);
  });
  routes.get('/log/arrows.csv', 'see-record', async (_request, response, gate) => {
    const csv = arrowsCsv(await access(gate).everything());
    response.attachment('endwise-arrows.csv').type('text/csv').send(csv);
  });
  routes.get('/log/export', 'export', async (request, response, gate) => {
    const { archer } = z.object({ archer: z.string().max(80).optional() }).parse(request.query);
    const archerId = await access(gate).exported(archer);
    const path = join(uploadFolder, `${randomUUID()}.zip`);
    await exportLog(log, path, archerId === undefined ? {} : { archerId });
    await log.noteExport(archerId ?? null, gate.visitor);
    response.download(path, 'endwise-log.zip', { dotfiles: 'allow' }, () => {
      void rm(path, { force: true });
    });
  });
  routes.post('/log/import', 'import', null, async (request, response, gate) => {
    gate.need('club');
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
      return importLog(log, archive, gate.visitor);
    };
    response.json(await take().finally(upload.discard));
  });
}

function idIn(request: Request): string {
  return z.string().parse(request.params['id']);
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
