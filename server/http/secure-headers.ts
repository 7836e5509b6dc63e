import type { RequestHandler } from 'express';
import helmet from 'helmet';

const DIRECTIVES = {
  defaultSrc: ["'self'"],
  scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
  workerSrc: ["'self'", 'blob:'],
  connectSrc: ["'self'", 'blob:', 'data:'],
  imgSrc: ["'self'", 'blob:', 'data:'],
  fontSrc: ["'self'"],
  // Drawings are SVG whose elements carry style attributes.
  styleSrc: ["'self'", "'unsafe-inline'"],
  objectSrc: ["'none'"],
  baseUri: ["'none'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
  // The server speaks plain HTTP on the local network.
  upgradeInsecureRequests: null,
};

const COMMON = {
  crossOriginEmbedderPolicy: true,
  crossOriginOpenerPolicy: { policy: 'same-origin' },
  // To other sites as silent as 'no-referrer', under which browsers post forms without their origin.
  referrerPolicy: { policy: 'same-origin' },
  strictTransportSecurity: false,
} as const;

/**
 * Security headers. OpenCV's glue makes functions from text when it starts, so the scripts of the
 * reading worker, and they alone, may do so; the page's own scripts may not.
 */
export function secureHeaders(): RequestHandler {
  const page = helmet({
    ...COMMON,
    contentSecurityPolicy: { useDefaults: false, directives: DIRECTIVES },
  });
  const worker = helmet({
    ...COMMON,
    contentSecurityPolicy: {
      useDefaults: false,
      directives: { ...DIRECTIVES, scriptSrc: [...DIRECTIVES.scriptSrc, "'unsafe-eval'"] },
    },
  });
  return (request, response, next) => {
    response.set('Permissions-Policy', 'camera=(self), geolocation=(), microphone=()');
    (request.path.startsWith('/vision/') ? worker : page)(request, response, next);
  };
}
