import { execFileSync, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { chmodSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { Client } from 'pg';
import { KEEPER } from '../../server/log/device-store.ts';
import { Log } from '../../server/log/log.ts';
import { startPostgres } from '../server/postgres/start-postgres.ts';
import { ENDWISE, Kept } from './kept-process.ts';

const README = fileURLToPath(new URL('../../README.md', import.meta.url));
const PHOTO = fileURLToPath(new URL('../../test-images/fresh-02.jpg', import.meta.url));
const NAME = 'bows.example.org';
const TLS_PORT = 4443;
const AT = /endwise is at http:\/\/127\.0\.0\.1:(\d+)/;

export interface ClubRestartOptions {
  /** Photos that are uploaded. @default 60 */
  readonly uploads?: number;
  /** How often both servers are restarted, one after the other. @default 3 */
  readonly restarts?: number;
}

/**
 * nginx with TLS as the README has it, before two servers that are restarted one after the other while photos
 * are uploaded through it: what visitors saw, and whether every upload is there once.
 */
export async function clubRestartBench({ uploads = 60, restarts = 3 }: ClubRestartOptions) {
  const folder = mkdtempSync(join(tmpdir(), 'endwise-nginx-'));
  chmodSync(folder, 0o755);
  const postgres = await startPostgres({ durable: true });
  const env = { ...process.env, ENDWISE_DATABASE: postgres.url, ENDWISE_LOG: 'silent' };
  const start = (port: string) => new Kept([ENDWISE, 'serve', '--name', NAME, '--port', port], env);
  const servers = [start('4470'), start('4490')];
  try {
    const ports: string[] = [];
    for (const one of servers) ports.push(AT.exec(await one.line(AT))![1]!);
    const proxy = startNginx(folder, ports);
    const log = await Log.open(postgres.url);
    const cookie = `endwise=${(await log.devices.pair(await log.devices.newCode(KEEPER)))!.token}`;
    await log.close();
    while ((await ask('/api/health', { cookie }).catch(() => null))?.status !== 200)
      await wait(200);

    const seen: Record<string, number> = {};
    const noted = (what: string) => (seen[what] = (seen[what] ?? 0) + 1);
    let isOver = false;
    const looking = (async () => {
      while (!isOver) {
        const { status } = await ask('/api/log/archers', { cookie }).catch(() => ({ status: 0 }));
        noted(`page ${status}`);
        await wait(300);
      }
    })();
    const ids = new Set<string>();
    const sending = Array.from({ length: 4 }, async (_, lane) => {
      for (let number = lane; number < uploads; number += 4) {
        ids.add(await uploaded(cookie, noted));
        await wait(300);
      }
    });
    const restarting = (async () => {
      for (let round = 0; round < restarts; round++) {
        for (const one of servers) {
          await one.restart(AT);
        }
      }
    })();
    await Promise.all([...sending, restarting]);
    isOver = true;
    await looking;
    proxy.kill();
    const client = new Client({ connectionString: postgres.url });
    await client.connect();
    const { rows } = await client.query<{ id: string }>('SELECT id FROM endwise_readings.reading');
    await client.end();
    const there = new Set(rows.map(({ id }) => id));
    const lost = [...ids].filter((id) => !there.has(id)).length;
    console.log(
      `${uploads} uploads, both servers restarted ${restarts} times: ${lost} lost, ${there.size - ids.size} doubled`,
    );
    console.table(seen);
    if (lost > 0 || there.size !== uploads) process.exitCode = 1;
  } finally {
    for (const one of servers) one.end();
    await postgres.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Sends a photo until it is confirmed. @returns its id */
async function uploaded(cookie: string, noted: (what: string) => void): Promise<string> {
  const body = new FormData();
  body.append('photo', new Blob([new Uint8Array(readFileSync(PHOTO))]));
  const form = new Response(body);
  const bytes = Buffer.from(await form.arrayBuffer());
  const headers = {
    cookie,
    'content-type': form.headers.get('content-type')!,
    'content-length': String(bytes.length),
    prefer: 'respond-async',
    'idempotency-key': randomUUID(),
  };
  for (;;) {
    const answer = await ask('/api/readings', headers, bytes).catch(() => ({
      status: 0,
      text: '',
    }));
    noted(`upload ${answer.status}`);
    if (answer.status === 202) return (JSON.parse(answer.text) as { id: string }).id;
    await wait(1000);
  }
}

function ask(path: string, headers: Record<string, string>, body?: Buffer) {
  return new Promise<{ status: number; text: string }>((resolve, reject) => {
    const options = { port: TLS_PORT, path, method: body ? 'POST' : 'GET', headers: { ...headers, host: NAME }, rejectUnauthorized: false }; // prettier-ignore
    const sent = request(options, (response) => {
      let text = '';
      response.on('data', (chunk: Buffer) => (text += chunk.toString()));
      response.on('end', () => resolve({ status: response.statusCode!, text }));
      response.on('error', reject);
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

/** By what the README says, with addresses and files of its own. */
function startNginx(folder: string, ports: readonly string[]) {
  const readme = readFileSync(README, 'utf8');
  const block = (first: string) =>
    new RegExp(`^( *)${first} \\{\\n[^]*?^\\1\\}$`, 'm').exec(readme)![0];
  const key = join(folder, 'key.pem');
  const certificate = join(folder, 'certificate.pem');
  execFileSync('openssl', ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '2', '-subj', `/CN=${NAME}`, '-keyout', key, '-out', certificate], { stdio: 'ignore' }); // prettier-ignore
  const upstream = block('upstream endwise')
    .replace('10.0.0.11:4170', `127.0.0.1:${ports[0]}`)
    .replace('10.0.0.12:4170', `127.0.0.1:${ports[1]}`);
  const toBoth = [
    'proxy_pass http://endwise',
    'proxy_next_upstream [^;]*',
    'proxy_connect_timeout [^;]*',
  ]
    .map((line) => `${new RegExp(line).exec(readme)![0]};`)
    .join(' ');
  const server = block('server')
    .replace('listen 443', `listen 127.0.0.1:${TLS_PORT}`)
    .replace('/etc/ssl/bows.pem', certificate)
    .replace('/etc/ssl/bows.key', key)
    .replace('proxy_pass http://127.0.0.1:4170;', toBoth);
  const temporary = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi']
    .map((name) => `${name}_temp_path ${join(folder, name)};`)
    .join('\n');
  const config = join(folder, 'nginx.conf');
  writeFileSync(
    config,
    `daemon off; pid ${join(folder, 'pid')}; error_log ${join(folder, 'error.log')};
    events {}
    http { access_log off; ${temporary}
    ${upstream}
    ${server}
    }`,
  );
  return spawn('nginx', ['-c', config, '-p', folder], { stdio: 'inherit' });
}
