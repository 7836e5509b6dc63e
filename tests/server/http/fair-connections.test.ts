import { createServer, type RequestListener, type Server } from 'node:http';
import { connect, type AddressInfo, type Socket } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { fairConnections } from '../../../server/http/fair-connections.ts';
import { listen } from '../../../server/http/listen.ts';

/** Far longer than a busy machine keeps a process waiting. */
const STALL_MS = 600;
const closing: (() => void)[] = [];
afterEach(() => closing.splice(0).forEach((close) => close()));

async function serverOf(handler: RequestListener, mostConnections = 10): Promise<Server> {
  const server = createServer(handler);
  fairConnections(server, { mostConnections, stallMs: STALL_MS, leastBytes: 100, graceMs: 0 });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => {
    server.close();
    server.closeAllConnections();
  });
  return server;
}

interface Client {
  readonly socket: Socket;
  /** All that came, once the connection has ended. */
  readonly ended: Promise<string>;
}

function clientOf(server: Server, says: string): Client {
  return clientTo((server.address() as AddressInfo).port, says);
}

function clientTo(port: number, says: string): Client {
  const socket = connect(port, '127.0.0.1');
  closing.push(() => socket.destroy());
  let text = '';
  socket.on('data', (chunk) => (text += chunk.toString()));
  socket.on('error', () => undefined);
  socket.write(says);
  return { socket, ended: new Promise((resolve) => socket.once('close', () => resolve(text))) };
}

const post = (length: number, body: string) =>
  `POST / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nContent-Length: ${length}\r\n\r\n${body}`;

it('gives up a body that stands still while the server waits for it', async () => {
  const server = await serverOf((request, response) => {
    request.resume();
    request.once('end', () => response.end('whole'));
  });
  expect(await clientOf(server, post(9, 'half')).ended).toMatch(/^HTTP\/1\.1 408/);
});

it('does not blame a client for what the server itself does not take', async () => {
  const server = await serverOf((request, response) => {
    request.pause();
    // As long as a slow disk is behind.
    setTimeout(() => {
      request.resume();
      request.once('end', () => response.end('whole'));
    }, 4 * STALL_MS);
  });
  // More than fits into the buffers on the way, so that it stands still until it is taken.
  const body = 'x'.repeat(8_000_000);
  expect(await clientOf(server, post(body.length, body)).ended).toMatch(/^HTTP\/1\.1 200/);
});

it('takes a slow body that keeps coming', async () => {
  const server = await serverOf((request, response) => {
    request.resume();
    request.once('end', () => response.end('whole'));
  });
  const pieces = 8;
  const piece = 'x'.repeat(200);
  const { socket, ended } = clientOf(server, post(pieces * piece.length, ''));
  for (let i = 0; i < pieces; i++) {
    await wait(STALL_MS / 4);
    socket.write(piece);
  }
  expect(await ended).toMatch(/^HTTP\/1\.1 200/);
});

it('closes the connection that is idle for longest for a new one, none with a request', async () => {
  let answerSlow!: () => void;
  const connected: Socket[] = [];
  const server = await serverOf((request, response) => {
    if (request.url === '/slow') answerSlow = () => response.end('slow');
    else response.end('quick');
  }, 3);
  server.on('connection', (socket: Socket) => connected.push(socket));
  const get = (path: string) =>
    `GET ${path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n`;
  const slow = clientOf(server, get('/slow'));
  await expect.poll(() => typeof answerSlow).toBe('function');
  const oldest = clientOf(server, '');
  await expect.poll(() => connected.length).toBe(2);
  const second = clientOf(server, '');
  await expect.poll(() => connected.length).toBe(3);

  expect(await clientOf(server, get('/quick')).ended).toContain('quick');
  expect(await oldest.ended).toBe('');
  expect(second.socket.closed).toBe(false);
  answerSlow();
  expect(await slow.ended).toContain('slow');
});

describe('a server that ends', () => {
  const PIECE = 'x'.repeat(500);

  /** Half of a body has come in when it is told to. */
  async function ending(graceMs: number) {
    let begun!: () => void;
    const half = new Promise<void>((resolve) => (begun = resolve));
    const server = await listen(
      (request, response) => {
        request.once('data', begun);
        request.once('end', () => response.end('whole'));
      },
      { host: '127.0.0.1', port: 0, patience: { graceMs } },
    );
    const client = clientTo(server.port, post(2 * PIECE.length, PIECE));
    const idle = clientTo(server.port, '');
    await half;
    return { server, client, idle, closed: server.close() };
  }

  it('takes what is being sent to it to its end, and nothing new', async () => {
    const { server, client, idle, closed } = await ending(60_000);
    expect(await idle.ended).toBe('');
    const late = connect(server.port, '127.0.0.1');
    const refused = new Promise((resolve) => late.once('error', resolve));
    expect(await refused).toMatchObject({ code: 'ECONNREFUSED' });
    client.socket.write(PIECE);
    expect(await client.ended).toMatch(/^HTTP\/1\.1 200/);
    await closed;
  });

  it('waits no longer for it than it is given', async () => {
    const { client, closed } = await ending(50);
    expect(await client.ended).toBe('');
    await closed;
  });
});
