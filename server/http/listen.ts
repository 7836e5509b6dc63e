import { createServer, type RequestListener } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface Listening {
  readonly url: string;
  readonly port: number;
  /** Takes no more requests and resolves when those under way are answered. */
  readonly close: () => Promise<void>;
}

export interface ListenOptions {
  readonly host: string;
  /** 0 takes any free port; otherwise the next free one from here on. */
  readonly port: number;
  /** How slowly a client may send. */
  readonly patience?: Patience;
}

export interface Patience {
  /** For a request's headers, and for all of it, ms. */
  readonly headersTimeout: number;
  readonly requestTimeout: number;
  /** How often that is looked at, ms. */
  readonly connectionsCheckingInterval: number;
}

const PATIENCE: Patience = {
  headersTimeout: 10_000,
  requestTimeout: 120_000,
  connectionsCheckingInterval: 5_000,
};

const PORTS_TRIED = 20;

/** Starts a server with limits on how slowly a client may send. */
export async function listen(
  handler: RequestListener,
  { host, port, patience = PATIENCE }: ListenOptions,
): Promise<Listening> {
  const server = createServer({ ...patience, keepAliveTimeout: 5_000 }, handler);
  server.maxConnections = 500;
  for (let tried = 0; ; tried++) {
    const problem = await new Promise<NodeJS.ErrnoException | null>((resolve) => {
      server.once('error', resolve);
      server.listen(port === 0 ? 0 : port + tried, host, () => {
        server.removeListener('error', resolve);
        resolve(null);
      });
    });
    if (problem === null) break;
    if (problem.code !== 'EADDRINUSE' || port === 0 || tried === PORTS_TRIED) throw problem;
  }
  const address = server.address() as AddressInfo;
  const everywhere = address.address === '0.0.0.0' || address.address === '::';
  const literal = address.family === 'IPv6' ? `[${address.address}]` : address.address;
  const name = everywhere ? 'localhost' : literal;
  return {
    url: `http://${name}:${address.port}/`,
    port: address.port,
    close: () =>
      new Promise((resolve, reject) => {
        server.close((error) => (error ? reject(error) : resolve()));
        server.closeIdleConnections();
      }),
  };
}
