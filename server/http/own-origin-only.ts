import { isIP } from 'node:net';
import { hostname } from 'node:os';
import type { RequestHandler } from 'express';
import { HttpError } from './http-error.ts';

const READING_METHODS = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Refuses requests that other sites make through a visitor's browser: names that were pointed at this
 * machine (DNS rebinding), and changes asked for from another origin.
 * @param names by which it is known beside those of the machine itself
 */
export function ownOriginOnly(names: readonly string[]): RequestHandler {
  const machine = hostname().toLowerCase();
  const ownNames = new Set(['localhost', machine, `${machine}.local`, ...names]);
  return (request, _response, next) => {
    const host = hostOf(`http://${request.get('host') ?? ''}`);
    if (host === null || !(isIP(bare(host.hostname)) > 0 || ownNames.has(host.hostname))) {
      throw new HttpError(
        421,
        'wrong-host',
        'This server is not known by that name; its option --name makes it known.',
      );
    }
    const origin = request.get('origin');
    const foreign =
      (origin !== undefined && hostOf(origin)?.host !== host.host) ||
      request.get('sec-fetch-site') === 'cross-site';
    if (foreign && !READING_METHODS.has(request.method)) {
      throw new HttpError(403, 'foreign-origin', 'Another site may not change anything here.');
    }
    next();
  };
}

function hostOf(url: string): URL | null {
  return URL.canParse(url) ? new URL(url) : null;
}

/** IPv6 without its brackets. */
function bare(name: string): string {
  return name.replace(/^\[|\]$/g, '');
}
