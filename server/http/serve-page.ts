import { Router, static as files } from 'express';

const YEAR_SECONDS = 365 * 24 * 3600;

/** The built page. Files under assets/ and vision/ carry a hash in their names and never change. */
export function servePage(folder: string): Router {
  const router = Router();
  const hashed = files(folder, {
    immutable: true,
    maxAge: YEAR_SECONDS * 1000,
    dotfiles: 'ignore',
    redirect: false,
    index: false,
  });
  const fresh = files(folder, { maxAge: 0, dotfiles: 'ignore', redirect: false });
  router.use((request, response, next) => {
    const serve = /^\/(assets|vision)\//.test(request.path) ? hashed : fresh;
    void serve(request, response, next);
  });
  return router;
}
