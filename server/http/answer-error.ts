import type { ErrorRequestHandler, Request } from 'express';
import type { Logger } from 'pino';
import { ZodError } from 'zod';
import { html } from '../../src/drawing/html.ts';
import type { Words } from '../../src/words/words.ts';
import { PhotoError } from '../decode/photo-error.ts';
import { explainStorage } from '../log/explain-storage.ts';
import { LogError, type LogErrorCode } from '../log/log-error.ts';
import { PoolFullError } from '../reading/reading-pool.ts';
import { KeyUsedError } from '../reading/readings.ts';
import { issueSentence } from '../reading/issue-sentence.ts';
import { faultOf } from './fault-of.ts';
import { HttpError } from './http-error.ts';
import { routeOf } from './log-requests.ts';
import { badNews, plainPage } from './plain-page.ts';
import { statusOfFailure } from './status-of-failure.ts';
import { wantsPage } from './wants-page.ts';
import { wordsFor } from './words-for.ts';

/**
 * Every failure leaves as `{ error: { code, message } }`, to a person's browser as a page with that
 * message; what a client cannot help stays inside.
 */
export function answerError(logger: Logger): ErrorRequestHandler {
  return async (error: unknown, request, response, next) => {
    if (response.headersSent) {
      next(error);
      return;
    }
    const { status, code, message } = explain(explainStorage(error));
    if (status >= 500 && status !== 503) {
      logger.error({ fault: faultOf(error), route: routeOf(request.originalUrl) }, 'fault');
    }
    if (status === 503 || status === 507) response.set('Retry-After', '30');
    response.status(status);
    if (!wantsPage(request)) {
      response.json({ error: { code, message } });
      return;
    }
    const words = await wordsFor(request, response);
    response.type('html').send(errorPage(request, message, words));
  };
}

/** With the way back to the page, relative: a proxy may have it under a path of its own. */
function errorPage(request: Request, message: string, words: Words): string {
  const depth = request.originalUrl.split('?', 1)[0]!.split('/').length - 2;
  const home = depth === 0 ? './' : '../'.repeat(depth);
  const back = words.say('Back to endwise');
  return plainPage(
    words.say('That did not work'),
    html`${badNews(words.again(message))}<a class="button" href="${home}">${back}</a>`,
    words,
  );
}

function explain(error: unknown): { status: number; code: string; message: string } {
  if (error instanceof HttpError) return error;
  if (error instanceof PoolFullError) {
    return { status: 503, code: error.code, message: error.message };
  }
  if (error instanceof KeyUsedError) {
    return { status: 422, code: error.code, message: error.message };
  }
  if (error instanceof PhotoError) {
    return { status: statusOfFailure(error.code), code: error.code, message: error.message };
  }
  if (error instanceof LogError) {
    return { status: statusOfLogError(error.code), code: error.code, message: error.message };
  }
  if (error instanceof ZodError) {
    return { status: 400, code: 'bad-request', message: issueSentence(error) };
  }
  return clientProblem(error) ?? fault;
}

function statusOfLogError(code: LogErrorCode): number {
  if (code.startsWith('unknown-')) return 404;
  switch (code) {
    case 'snapshot-changed':
    case 'same-photo':
    case 'not-empty':
    case 'of-another-archer':
    case 'in-use':
      return 409;
    case 'changed-elsewhere':
    case 'deleted-elsewhere':
      return 412;
    case 'disk-full':
      return 507;
    case 'log-busy':
    case 'log-away':
    case 'read-only-log':
    case 'bad-database':
    case 'database-rights':
      return 503;
    case 'damaged-log':
    case 'damaged-photo':
    case 'newer-log':
    case 'disk-fault':
      return 500;
    default:
      return 422;
  }
}

const fault = {
  status: 500,
  code: 'internal',
  message: 'Something went wrong in endwise itself; the server wrote down what.',
};

/** Express and its parsers say by a status what the client did wrong. */
function clientProblem(error: unknown) {
  const { status } = error as { status?: unknown };
  if (typeof status !== 'number' || status < 400 || status >= 500) return null;
  switch (status) {
    case 404:
      return { status, code: 'not-found', message: 'There is nothing here.' };
    case 413:
      return { status, code: 'too-large', message: 'The request is larger than allowed.' };
    case 415:
      return {
        status,
        code: 'bad-request',
        message: 'The request is encoded in a way that is not understood.',
      };
    default:
      return {
        status,
        code: 'bad-request',
        message: 'The request is not well formed: its address, encoding or JSON is broken.',
      };
  }
}
