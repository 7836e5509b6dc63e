import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Metrics } from './metrics.ts';

/** Where an operator's tools ask, apart from what visitors reach. */
export interface WatchAddress {
  readonly host: string;
  readonly port: number;
}

export interface WatchOptions extends WatchAddress {
  readonly metrics: Metrics;
  /** Rejects while the process cannot do its work. */
  readonly check: () => Promise<void>;
}

export interface WatchServer {
  readonly url: string;
  readonly close: () => Promise<void>;
}

/** Answers there if an operator asked for it; null otherwise. */
export async function watchWhereAsked(
  address: WatchAddress | undefined,
  metrics: Metrics | undefined,
  check: WatchOptions['check'],
): Promise<WatchServer | null> {
  return address && metrics ? watchServer({ ...address, metrics, check }) : null;
}

/** Answers /health, /ready and /metrics. */
export async function watchServer({
  host,
  port,
  metrics,
  check,
}: WatchOptions): Promise<WatchServer> {
  const server = createServer((request, response) => {
    const answer = (status: number, type: string, body: string) => {
      response.writeHead(status, { 'content-type': type, 'cache-control': 'no-store' });
      response.end(body);
    };
    const say = (status: number, body: string) => answer(status, 'text/plain', `${body}\n`);
    void (async () => {
      switch (request.url) {
        case '/health':
          return say(200, 'ok');
        case '/ready':
          return check().then(
            () => say(200, 'ready'),
            (error: Error) => say(503, error.message),
          );
        case '/metrics':
          return answer(200, metrics.contentType, await metrics.text());
        default:
          return say(404, 'There is nothing here.');
      }
    })().catch(() => say(500, 'Something went wrong.'));
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, resolve);
  });
  const { port: taken } = server.address() as AddressInfo;
  return {
    url: `http://${host.includes(':') ? `[${host}]` : host}:${taken}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
