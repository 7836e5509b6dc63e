import type { RequestHandler } from 'express';
import type { Logger } from 'pino';

/** One line per answer: no addresses, no names, no query, no ids. */
export function logRequests(logger: Logger): RequestHandler {
  return (request, response, next) => {
    const start = performance.now();
    response.on('close', () => {
      const ms = Math.round(performance.now() - start);
      const route = pathWithoutIds(request.originalUrl);
      const finished = response.writableFinished;
      logger.debug({ method: request.method, route, status: response.statusCode, ms, finished });
    });
    next();
  };
}

function pathWithoutIds(url: string): string {
  return url
    .split('?', 1)[0]!
    .split('/')
    .map((part) => (part.length > 20 ? ':id' : part))
    .join('/')
    .slice(0, 100);
}
