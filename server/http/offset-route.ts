import { json } from 'express';
import { offsetOfEnd, typedEndSchema } from '../reading/offset-of-end.ts';
import type { GuardedRoutes } from './guarded-routes.ts';

/** POST /offset: groups and tuning of a typed-in or corrected end. */
export function addOffsetRoute(routes: GuardedRoutes): void {
  routes.post('/offset', 'work-out', json({ limit: '256kb' }), (request, response) => {
    response.json(offsetOfEnd(typedEndSchema.parse(request.body ?? {})));
  });
}
