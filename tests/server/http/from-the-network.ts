import express, { type Express } from 'express';

/** The app as visitors of another machine find it: the socket's own address is hidden from it. */
export function fromTheNetwork(app: Express, address = '192.0.2.7'): Express {
  const outer = express();
  outer.use((request, _response, next) => {
    Object.defineProperty(request.socket, 'remoteAddress', { value: address, configurable: true });
    next();
  });
  outer.use(app);
  return outer;
}
