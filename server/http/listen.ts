import { createServer, type RequestListener } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fairConnections } from './fair-connections.ts';

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
  readonly patience?: Partial<Patience>;
  /** At once. @default 500 */
  readonly mostConnections?: number;
}

export interface Patience {
  /** For a request's headers, and for all of it, ms. */
  readonly headersTimeout: number;
  readonly requestTimeout: number;
  /** How often that is looked at, ms. */
  readonly connectionsCheckingInterval: number;
  /** For a body of which next to nothing comes, ms. */
  readonly stallMs: number;
  /** For a body that is still coming in when the server ends, ms. */
  readonly graceMs: number;
}

/** How long the server waits for what is being sent to it when it ends, s. */
export const GRACE_SECONDS = 20;

/** A large photo over a poor connection takes minutes; one that stands still has been given up. */
const PATIENCE: Patience = {
  headersTimeout: 10_000,
  requestTimeout: 15 * 60_000,
  connectionsCheckingInterval: 2_000,
  stallMs: 15_000,
  graceMs: GRACE_SECONDS * 1000,
};

/** Of a body, within `stallMs`: a thousandth of what a poor mobile connection sends. */
const LEAST_BYTES = 4096;

const MOST_CONNECTIONS = 500;

/** Requests under way may finish when the server ends, a reading among them; no longer, ms. */
const LAST_ANSWERS_MS = 150_000;

const PORTS_TRIED = 20;

/** Starts a server with limits on how slowly a client may send. */
export async function listen(
  handler: RequestListener,
  { host, port, patience = {}, mostConnections = MOST_CONNECTIONS }: ListenOptions,
): Promise<Listening> {
  const { stallMs, graceMs, ...timeouts } = { ...PATIENCE, ...patience };
  const server = createServer({ ...timeouts, keepAliveTimeout: 5_000 });
  const fairness = { mostConnections, stallMs, leastBytes: LEAST_BYTES, graceMs };
  const fair = fairConnections(server, fairness);
  server.on('request', handler);
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
        fair.endIdle();
        setTimeout(() => server.closeAllConnections(), LAST_ANSWERS_MS).unref();
      }),
  };
}
