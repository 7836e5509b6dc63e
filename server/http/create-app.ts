import express, { type Express } from 'express';
import { pairedOnly, pairingRoute, visitorLimits } from './access-rules.ts';
import type { AppDeps } from './app-deps.ts';
import { answerError } from './answer-error.ts';
import { checkReady } from './check-ready.ts';
import { GuardedRoutes } from './guarded-routes.ts';
import { HttpError } from './http-error.ts';
import { addLogRoutes } from './log-routes.ts';
import { logRequests } from './log-requests.ts';
import { addOffsetRoute } from './offset-route.ts';
import { addPeopleRoutes } from './people-routes.ts';
import { addReadingsRoutes } from './readings-route.ts';
import { ownOriginOnly } from './own-origin-only.ts';
import { pairingPage } from './pairing-page.ts';
import { secureHeaders } from './secure-headers.ts';
import { servePage } from './serve-page.ts';

/** Everything that only those who were let in may ask for, each route with what it is there for. */
export function guardedRoutes(deps: AppDeps): GuardedRoutes {
  const routes = new GuardedRoutes();
  addPeopleRoutes(routes, deps.log);
  addOffsetRoute(routes);
  addReadingsRoutes(routes, deps);
  addLogRoutes(routes, deps);
  return routes;
}

/** The whole server as a function of what it stands on; it listens nowhere by itself. */
export function createApp(deps: AppDeps): Express {
  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  // A proxy on this machine says who asks, and whether over HTTPS; nobody else is believed.
  app.set('trust proxy', 'loopback');
  app.use(logRequests(deps.logger));
  app.use(secureHeaders());
  app.use(ownOriginOnly(deps.names ?? []));

  const api = express.Router();
  api.use((_request, response, next) => {
    response.set('Cache-Control', 'no-store');
    next();
  });
  api.get('/health', (_request, response) => {
    const { waiting, busy } = deps.readings.here;
    response.json({ status: 'ok', version: deps.version, reading: busy, waiting });
  });
  api.get('/ready', async (_request, response) => {
    await checkReady(deps);
    response.json({ status: 'ready', version: deps.version });
  });
  api.use(visitorLimits(deps.log.tries));
  api.use(pairingRoute(deps.log.devices, deps.log.tries));
  api.use(pairedOnly(deps.log.devices));
  api.use(guardedRoutes(deps).router);
  api.use((request) => {
    throw new HttpError(404, 'not-found', `There is nothing at /api${request.path}.`);
  });

  app.use('/api', api);
  app.get('/pair', pairingPage());
  if (deps.webFolder !== null) app.use(servePage(deps.webFolder));
  app.use(() => {
    throw new HttpError(404, 'not-found', 'There is nothing here.');
  });
  app.use(answerError(deps.logger));
  return app;
}
