import type { Request, Response } from 'express';
import { z } from 'zod';
import { ownerFor, type Owner } from '../../src/club/rights.ts';
import type { KnownOfArcher } from '../../src/reading/known-of-archer.ts';
import type { UsedLog } from '../../src/reading/reading.ts';
import { readingRequestSchema, type ReadingRequest } from '../../src/request/request.ts';
import { knownOfArcher, photoSha256, shooterSchema, type Shooter } from '../log/known-of-archer.ts';
import { judgeWithLog } from '../reading/judge-with-log.ts';
import type { Outcome } from '../reading/read-job.ts';
import type { Found } from '../reading/readings.ts';
import { shotAt } from '../reading/shot-at.ts';
import type { AppDeps } from './app-deps.ts';
import { askedByHeaders, type AskedByHeaders } from './asked-by-headers.ts';
import type { Gate, GuardedRoutes } from './guarded-routes.ts';
import { HttpError } from './http-error.ts';
import { jsonField } from './json-field.ts';
import { LogAccess } from './log-access.ts';
import { receiveUpload, type Upload } from './receive-upload.ts';
import { statusOfFailure } from './status-of-failure.ts';

const STREAM_TYPE = 'application/x-ndjson';

/** Proxies give a connection up on which nothing comes for a minute, ms. */
const SAY_AGAIN_MS = 20_000;

type Deps = Pick<AppDeps, 'readings' | 'sizes' | 'uploadFolder' | 'log' | 'closing'>;

/** What is kept with a job, so that any server can judge its reading. */
const aboutSchema = z.object({
  request: readingRequestSchema,
  shooter: shooterSchema,
  sha256: z.string().nullable(),
});
type About = z.infer<typeof aboutSchema>;

type Judged = Outcome & { log?: UsedLog };

/**
 * POST /readings: a form with the file `photo`, optionally the files `before` and `also`, and optionally the field
 * `request` as JSON, which may name the log's `archer`, `bow` and `setUp`: then the reading is judged
 * with what the log knows of them. Answers with the result. A client that accepts
 * application/x-ndjson gets a line `{"ahead": n}` whenever its place in the queue changes, and the
 * result as the last line. A client that goes away leaves the queue, unless it asked to be answered
 * later (`Prefer: respond-async`): it gets 202 and the reading's address as soon as the photo is
 * kept, and may ask there, this server or another one, for as long as results are kept.
 *
 * GET /readings/ID: the same result, or 202 with `{"id", "state", "ahead"}` while there is none;
 * `Prefer: wait=N` waits N seconds for it, and a client that accepts application/x-ndjson is told as
 * above. DELETE /readings/ID takes the photo out of the queue and forgets what is kept of it.
 */
export function addReadingsRoutes(routes: GuardedRoutes, deps: Deps): void {
  routes.post('/readings', 'read-photo', null, async (request, response, gate) => {
    const upload = await receiveUpload(request, {
      folder: deps.uploadFolder,
      fileFields: ['photo', 'before', 'also'],
    });
    const asked = askedByHeaders(request);
    const { id, known } = await submit(upload, deps, gate, asked).catch(async (error) => {
      await upload.discard();
      throw error;
    });
    if (asked.later) {
      response.set('Preference-Applied', 'respond-async');
      answerLater(response, id, await deps.readings.find(id));
      return;
    }
    const found = await followed(id, deps, request, response).catch(async (error) => {
      // Nobody was promised anything but this very answer.
      await forgotten(deps.readings.drop(id));
      throw error;
    });
    if (found?.standing.state === 'read') {
      await answerRead(response, found, deps, gate, known);
      await forgotten(deps.readings.drop(id));
    } else answerLater(response, id, found);
  });
  routes.get('/readings/:id', 'see-reading', async (request, response, gate) => {
    let found = await seen(request, deps, gate);
    const { id } = found;
    const { waitSeconds } = askedByHeaders(request);
    if (found.standing.state !== 'read' && (waitSeconds > 0 || streams(request))) {
      found = await followed(id, deps, request, response, waitSeconds).then(needed(deps));
    }
    if (found.standing.state !== 'read') {
      answerLater(response, id, found);
      return;
    }
    await answerRead(response, found, deps, gate);
    await forgotten(deps.readings.fetched(id));
  });
  routes.delete('/readings/:id', 'cancel-reading', async (request, response, gate) => {
    const { id } = await seen(request, deps, gate);
    await deps.readings.drop(id);
    response.status(204).end();
  });
}

/** What is tidied up after an answer: where it fails, it goes with time. */
async function forgotten(work: Promise<unknown>): Promise<void> {
  await work.catch(() => undefined);
}

async function submit(
  { files, fields, discard }: Upload,
  { readings, sizes, log }: Deps,
  gate: Gate,
  { urgency, key }: AskedByHeaders,
): Promise<{ id: string; known: KnownOfArcher | null }> {
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
  const shooter: Shooter = { archer, bow, setUp };
  const sha256 = namesSomebody(shooter) ? await photoSha256(photo) : null;
  const about: About = { request, shooter, sha256 };
  // Who is not there is said before the photo waits its turn.
  const known = await knownOf(about, new LogAccess(log, gate));
  const { deviceId, archerId } = gate.visitor;
  const id = await readings.submit({
    job: {
      photo: { path: photo },
      ...(before === undefined ? {} : { before: { path: before } }),
      ...(also === undefined ? {} : { also: { path: also } }),
      request,
      sizes: await sizes(),
    },
    by: { deviceId, archerId },
    urgency,
    key,
    about,
    ofArcher: known?.archer.id,
    photosTaken: discard,
  });
  return { id, known };
}

/** The reading as it is when it is read, or when nobody is to wait any longer; null: it is gone. */
async function followed(
  id: string,
  { readings, closing }: Deps,
  request: Request,
  response: Response,
  waitSeconds = 0,
): Promise<Found | null> {
  const gone = goneSignal(response);
  const enough = AbortSignal.any([
    ...(closing ? [closing] : []),
    ...(waitSeconds > 0 ? [AbortSignal.timeout(waitSeconds * 1000)] : []),
  ]);
  const teller = streams(request) ? tellAhead(response) : null;
  try {
    return await readings.follow(id, {
      signal: AbortSignal.any([gone, enough]),
      ...(teller && { onAhead: teller.tell }),
    });
  } catch (error) {
    if (gone.aborted || !enough.aborted) throw error;
    return await readings.find(id);
  } finally {
    teller?.end();
  }
}

/** The reading where the visitor may ask for it: what is others' does not exist for them. */
async function seen(request: Request, deps: Deps, gate: Gate): Promise<Found> {
  const id = z.uuid().safeParse(request.params['id']).data;
  const found = id === undefined ? null : await deps.readings.find(id);
  const isTheirs = found !== null && gate.may(ownerOfJob(found, gate));
  return needed(deps)(isTheirs && !(await isOfDeleted(found, deps)) ? found : null);
}

/** An archer who was deleted elsewhere takes along what this server still has of theirs. */
async function isOfDeleted({ ofArcher }: Found, { log, readings }: Deps): Promise<boolean> {
  if (ofArcher === null || (await log.ownerOf('archer', ofArcher)) !== null) return false;
  await readings.dropOf(ofArcher);
  return true;
}

/** Of an end that was somebody's it is theirs; else it is the device's that handed it in. */
function ownerOfJob({ ofArcher, by }: Found, { visitor }: Gate): Owner {
  if (ofArcher !== null) return ownerFor(visitor, ofArcher);
  return by.deviceId !== null && by.deviceId === visitor.deviceId ? 'own' : 'club';
}

function needed({ readings }: Deps): (found: Found | null) => Found {
  return (found) => {
    if (found !== null) return found;
    throw new HttpError(
      404,
      'unknown-reading',
      `There is no such reading here, or none any more: results are kept for ${keptFor(readings.keptHours)}.`,
    );
  };
}

function keptFor(hours: number): string {
  return hours >= 48 ? `${hours / 24} days` : hours === 1 ? 'an hour' : `${hours} hours`;
}

function namesSomebody({ archer, bow }: Shooter): boolean {
  return archer !== undefined || bow !== undefined;
}

function knownOf({ shooter, sha256 }: About, access: LogAccess): Promise<KnownOfArcher | null> {
  return namesSomebody(shooter) ? knownOfArcher(access, shooter, sha256) : Promise.resolve(null);
}

function streams(request: Request): boolean {
  return request.accepts(['application/json', STREAM_TYPE]) === STREAM_TYPE;
}

function goneSignal(response: Response): AbortSignal {
  const gone = new AbortController();
  response.on('close', () => {
    if (!response.writableFinished) gone.abort(new HttpError(499, 'gone', 'The client left.'));
  });
  return gone.signal;
}

function tellAhead(response: Response) {
  let last: number | null = null;
  const say = () => {
    if (last === null) return;
    if (!response.headersSent) response.status(200).type(STREAM_TYPE);
    response.write(JSON.stringify({ ahead: last }) + '\n');
  };
  const again = setInterval(say, SAY_AGAIN_MS);
  return {
    tell: (ahead: number) => {
      last = ahead;
      say();
    },
    end: () => clearInterval(again),
  };
}

async function answerRead(
  response: Response,
  found: Found,
  { log }: Deps,
  gate: Gate,
  known?: KnownOfArcher | null,
): Promise<void> {
  const { standing } = found;
  if (standing.state !== 'read') return;
  const about = aboutSchema.parse(found.about);
  const knows = known === undefined ? await knownOf(about, new LogAccess(log, gate)) : known;
  answer(response, judged(standing.outcome, about.request, knows));
}

function judged(outcome: Outcome, request: ReadingRequest, known: KnownOfArcher | null): Judged {
  return known === null ? outcome : judgeWithLog(outcome, request, known, shotAt(outcome.takenAt));
}

function answer(response: Response, outcome: Judged): void {
  const result = { photo: 'photo', ...outcome };
  if (response.headersSent) {
    response.end(JSON.stringify(result) + '\n');
    return;
  }
  if (outcome.ok) response.json(result);
  else response.status(statusOfFailure(outcome.error.code)).json({ error: outcome.error });
}

/** The photo is kept and will be read: where to ask for it. */
function answerLater(response: Response, id: string, found: Found | null): void {
  const standing = found?.standing ?? { state: 'waiting' };
  const later = { id, ...('outcome' in standing ? { state: standing.state } : standing) };
  if (response.headersSent) {
    response.end(JSON.stringify(later) + '\n');
    return;
  }
  // Relative: a proxy may have it under a path of its own.
  response.status(202).location(`readings/${id}`).json(later);
}
