import { json, Router } from 'express';
import { offsetOfEnd, typedEndSchema } from '../reading/offset-of-end.ts';

/** POST /offset: groups and tuning of a typed-in or corrected end. */
export function offsetRoute(): Router {
  const router = Router();
  router.post('/offset', json({ limit: '256kb' }), (request, response) => {
    response.json(offsetOfEnd(typedEndSchema.parse(request.body ?? {})));
  });
  return router;
}
