import { createServer, type RequestListener, type Server } from 'node:http';
import { connect, type AddressInfo, type Socket } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, expect, it } from 'vitest';
import { fairConnections } from '../../../server/http/fair-connections.ts';

const STALL_MS = 200;
const closing: (() => void)[] = [];
afterEach(() => closing.splice(0).forEach((close) => close()));

async function serverOf(handler: RequestListener, mostConnections = 10): Promise<Server> {
  const server = createServer(handler);
  fairConnections(server, { mostConnections, stallMs: STALL_MS, leastBytes: 100 });
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
  const socket = connect((server.address() as AddressInfo).port, '127.0.0.1');
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
