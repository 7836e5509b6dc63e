import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Command, InvalidArgumentError } from 'commander';
import { pino } from 'pino';
import { dataFolder } from '../log/data-folder.ts';
import { Log } from '../log/log.ts';
import { rememberedSizes } from '../log/remembered-sizes.ts';
import { ReadingPool } from '../reading/reading-pool.ts';
import { createApp } from './create-app.ts';
import { listen } from './listen.ts';
import { showPairing } from './show-pairing.ts';
import { uploadFolder } from './upload-folder.ts';

const program = new Command('endwise-server')
  .description('Serves the page and its interface on this machine.')
  .option('--port <n>', 'port; the next free one is taken when it is in use', port, 4170)
  .option('--workers <n>', 'photos read at once (the number of cores)', count)
  .option('--host <address>', 'listen on the network too, for paired devices', '127.0.0.1')
  .option('--archer <id>', 'with --host: the code lets in to this archer alone')
  .option('--demo', 'print the address at which the page opens with the demo end')
  .parse();
const options = program.opts<{
  port: number;
  workers?: number;
  demo?: true;
  host: string;
  archer?: string;
}>();

// A person at a terminal wants to read the address, not a line for each request.
const usualLevel = process.stdout.isTTY ? 'warn' : 'info';
const logger = pino({ level: process.env['ENDWISE_LOG'] ?? usualLevel });
const web = fileURLToPath(new URL('../../dist/web/', import.meta.url));
const pool = new ReadingPool({
  maxWaiting: 100,
  ...(options.workers === undefined ? {} : { workers: options.workers }),
});
const log = await Log.open(dataFolder());
const uploads = await uploadFolder();
const app = createApp({
  pool,
  sizes: () => rememberedSizes(),
  webFolder: existsSync(web) ? web : null,
  uploadFolder: uploads.path,
  log,
  logger,
  version: process.env['npm_package_version'] ?? 'unknown',
});
const server = await listen(app, { host: options.host, port: options.port });
console.log(`endwise is at ${server.url}${options.demo ? '?demo' : ''}`);
if (options.host !== '127.0.0.1') await showPairing(log, server, options.archer);

const stop = async () => {
  console.log('Finishing what is being read ...');
  await server.close();
  await pool.close();
  await log.close();
  await uploads.remove();
  process.exit();
};
process.once('SIGINT', () => void stop());
process.once('SIGTERM', () => void stop());

function port(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0 || value > 65_535) {
    throw new InvalidArgumentError('A port is a whole number from 0 to 65535.');
  }
  return value;
}

function count(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1 || value > 64) {
    throw new InvalidArgumentError('A whole number from 1 to 64.');
  }
  return value;
}
