import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { Socket } from 'node:net';

export interface Fairness {
  /** Connections at once; beyond, the one that is idle for longest gives way to a new one. */
  readonly mostConnections: number;
  /** A body of which less than `leastBytes` came within this time is given up, ms. */
  readonly stallMs: number;
  readonly leastBytes: number;
  /** A body that is still coming in when the server ends gets so long, ms. */
  readonly graceMs: number;
}

interface Connection {
  readonly socket: Socket;
  /** The request under way. */
  request: IncomingMessage | null;
  response: ServerResponse | null;
  /** Since when it is idle, or how much of the body had come when it was last looked at. */
  since: number;
  bytesRead: number;
}

const LOOK_EVERY_MS = 500;

/**
 * Keeps visitors who hold connections without using them, or send too slowly, from keeping out others.
 * @returns ends what has nothing to wait for when the server closes
 */
export function fairConnections(
  server: Server,
  { mostConnections, stallMs, leastBytes, graceMs }: Fairness,
): { endIdle: () => void } {
  const connections = new Map<Socket, Connection>();
  let closing = false;
  server.on('connection', (socket: Socket) => {
    if (connections.size >= mostConnections) makeRoom(connections);
    if (connections.size >= mostConnections) {
      socket.destroy();
      return;
    }
    const since = performance.now();
    connections.set(socket, { socket, request: null, response: null, since, bytesRead: 0 });
    socket.once('close', () => connections.delete(socket));
  });
  server.on('request', (request, response) => {
    const connection = connections.get(request.socket);
    if (connection === undefined) return;
    const start = () => {
      Object.assign(connection, { request, response, since: performance.now() });
      connection.bytesRead = request.socket.bytesRead;
    };
    start();
    response.once('close', () => {
      Object.assign(connection, { request: null, response: null, since: performance.now() });
      if (closing) request.socket.destroySoon();
    });
  });
  const looking = setInterval(
    () => {
      for (const connection of connections.values()) {
        if (isSending(connection)) giveUpOnStalled(connection, stallMs, leastBytes);
      }
    },
    Math.min(LOOK_EVERY_MS, stallMs / 2),
  );
  looking.unref();
  server.once('close', () => clearInterval(looking));
  return {
    endIdle: () => {
      closing = true;
      for (const { socket, request } of connections.values()) if (!request) socket.destroy();
      const last = setTimeout(() => {
        for (const connection of connections.values()) {
          if (isSending(connection)) connection.socket.destroy();
        }
      }, graceMs);
      server.once('close', () => clearTimeout(last));
    },
  };
}

function isSending({ request }: Connection): boolean {
  return request !== null && !request.complete;
}

function giveUpOnStalled(connection: Connection, stallMs: number, leastBytes: number): void {
  const { socket, request, response } = connection;
  const now = performance.now();
  if (now - connection.since < stallMs) return;
  // What the server itself does not take, because its disk is behind, is no fault of the client's.
  const isTaken = request?.readableFlowing === true;
  if (!isTaken || socket.bytesRead - connection.bytesRead >= leastBytes) {
    Object.assign(connection, { since: now, bytesRead: socket.bytesRead });
    return;
  }
  if (response?.headersSent === false) {
    socket.end('HTTP/1.1 408 Request Timeout\r\nConnection: close\r\nContent-Length: 0\r\n\r\n');
  }
  socket.destroySoon();
  setTimeout(() => socket.destroy(), LOOK_EVERY_MS).unref();
}

function makeRoom(connections: ReadonlyMap<Socket, Connection>): void {
  let idlest: Connection | null = null;
  for (const connection of connections.values()) {
    if (connection.request !== null) continue;
    if (idlest === null || connection.since < idlest.since) idlest = connection;
  }
  if (idlest === null) return;
  idlest.socket.destroy();
  (connections as Map<Socket, Connection>).delete(idlest.socket);
}
