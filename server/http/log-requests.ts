import type { RequestHandler } from 'express';
import type { Logger } from 'pino';

/** One line per answer: no addresses, no names, no query, no ids. */
export function logRequests(logger: Logger): RequestHandler {
  return (request, response, next) => {
    const start = performance.now();
    response.on('close', () => {
      const ms = Math.round(performance.now() - start);
      const route = routeOf(request.originalUrl);
      const finished = response.writableFinished;
      logger.info({ method: request.method, route, status: response.statusCode, ms, finished });
    });
    next();
  };
}

/** The words of our own addresses. Anything else may be somebody's id or name and is left out. */
const WORDS = new Set(
  (
    'api assets vision health ready pair devices offset readings log archers bows reading set-ups sessions ' +
    'ends photo ends.csv arrows.csv export import rights pairing-codes coaches trail'
  ).split(' '),
);

/** An address without what may be somebody's. */
export function routeOf(url: string): string {
  const parts = url.split('?', 1)[0]!.split('/').slice(1, 7);
  return parts.map((part) => `/${part === '' || WORDS.has(part) ? part : ':'}`).join('');
}
