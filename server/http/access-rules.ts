import { Router, urlencoded, json, type Request, type RequestHandler } from 'express';
import { parse as parseCookie } from 'cookie';
import { rateLimit } from 'express-rate-limit';
import { z } from 'zod';
import type { DeviceStore } from '../log/device-store.ts';
import type { TryCounter } from '../log/storage.ts';
import { HttpError } from './http-error.ts';
import { pairingFormAgain } from './pairing-page.ts';
import { SharedTries } from './shared-tries.ts';
import { HERE, letIn } from './visitor.ts';

const COOKIE = 'endwise';
const YEAR_MS = 365 * 24 * 3600_000;

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);

/** Whoever sits at the machine itself needs no pairing; what a proxy on it hands on comes from others. */
function isLocal(request: Request): boolean {
  const handedOn = 'x-forwarded-for' in request.headers || 'forwarded' in request.headers;
  return !handedOn && LOOPBACK.has(request.socket.remoteAddress ?? '');
}

const tooMany = (message: string): RequestHandler => {
  return () => {
    throw new HttpError(429, 'too-many-requests', message);
  };
};

/** In the log where several servers share it, else in this one's memory. */
function countedBy(tries: TryCounter | null, limit: string): { store?: SharedTries } {
  return tries === null ? {} : { store: new SharedTries(tries, limit) };
}

/** Limits for visitors from the network. */
export function visitorLimits(tries: TryCounter | null): RequestHandler {
  return rateLimit({
    ...countedBy(tries, 'visits'),
    windowMs: 60_000,
    limit: 600,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    skip: isLocal,
    handler: tooMany('Too many requests: wait a minute.'),
  });
}

/**
 * POST /pair with the code that the server's terminal shows; a form is sent on to the page. Ten wrong
 * tries in a quarter of an hour from one address: what others try is no reason to keep anybody out,
 * since all addresses of a network together come nowhere near guessing one of 30 to the 8th codes.
 */
export function pairingRoute(devices: DeviceStore, tries: TryCounter | null): Router {
  const router = Router();
  router.post(
    '/pair',
    rateLimit({
      ...countedBy(tries, 'pairing'),
      windowMs: 15 * 60_000,
      limit: 10,
      skipSuccessfulRequests: true,
      standardHeaders: 'draft-8',
      legacyHeaders: false,
      handler: tooMany('Too many wrong codes were tried: wait a quarter of an hour.'),
    }),
    json({ limit: '1kb' }),
    urlencoded({ limit: '1kb', extended: false }),
    async (request, response) => {
      const { code } = z.object({ code: z.string().max(40) }).parse(request.body ?? {});
      const paired = await devices.pair(code);
      if (paired === null) {
        throw new HttpError(
          403,
          'wrong-code',
          'The code is wrong or too old: look at the terminal.',
        );
      }
      response.cookie(COOKIE, paired.token, {
        httpOnly: true,
        sameSite: 'strict',
        secure: request.secure,
        maxAge: YEAR_MS,
        path: '/',
      });
      if (request.is('application/json')) {
        const { holder } = paired;
        const archerId = holder.role === 'archer' ? holder.archerId : null;
        response.json({ role: holder.role, archerId });
      }
      // Where the page lies is as the browser sees it: a proxy may have it under a path of its own.
      else response.redirect(303, '../?paired');
    },
  );
  router.use('/pair', pairingFormAgain);
  return router;
}

/** Lets in the machine itself and paired devices, and notes for whom they speak. */
export function pairedOnly(devices: DeviceStore): RequestHandler {
  return letIn(async (request) => {
    const token = cookieOf(request);
    const grant = token === null ? null : await devices.grantOf(token);
    return grant ?? (isLocal(request) ? HERE : null);
  });
}

function cookieOf(request: Request): string | null {
  return parseCookie(request.headers.cookie ?? '')[COOKIE] ?? null;
}
