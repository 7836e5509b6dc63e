import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import { chosenByName } from '../log/chosen-by-name.ts';
import { CODE_MINUTES, KEEPER, type Holder } from '../log/device-store.ts';
import { Log } from '../log/log.ts';
import { isPostgresAddress, logAddress } from '../log/log-address.ts';
import { rememberedSizes } from '../log/remembered-sizes.ts';
import { tidiedWords } from '../log/tidied-words.ts';
import { ownTemporaryFolder, removeLeftovers } from '../files/temporary-folders.ts';
import { toldToEnd, whenAborted } from '../processes/told-to-end.ts';
import { openReadings } from '../queue/open-readings.ts';
import { createMetrics, type Metrics } from '../watch/metrics.ts';
import { watchWhereAsked, type WatchAddress } from '../watch/watch-server.ts';
import { checkReady } from './check-ready.ts';
import { createApp } from './create-app.ts';
import { listen } from './listen.ts';
import { networkAddresses } from './network-addresses.ts';
import { phoneGuide } from './phone-guide.ts';

export interface ServeOptions {
  readonly port: number;
  /** Address to listen on; other than the loopback's, paired devices are let in. */
  readonly host: string;
  /** Names by which a proxy's visitors know the server. */
  readonly names: readonly string[];
  /** Photos read at once. @default the number of cores */
  readonly workers?: number | undefined;
  /** How long what is being sent when it ends may still take, s. */
  readonly graceSeconds: number;
  /** Where /health, /ready and /metrics are answered to an operator's tools. @default nowhere */
  readonly watch?: WatchAddress | undefined;
  /** The pairing code is for a device of this archer, by id or name. @default for a keeper's */
  readonly archer?: string | undefined;
  /** Address of a database. @default what logAddress says */
  readonly database?: string | undefined;
  /** Print the address at which the page opens with the demo end. */
  readonly demo: boolean;
  readonly version: string;
}

const WEB = fileURLToPath(new URL('../../dist/web/', import.meta.url));
const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);

/** Serves the page and its interface until the process is told to end. */
export async function serve(options: ServeOptions): Promise<void> {
  // A person at a terminal wants to read the address, not a line for each request.
  const usualLevel = process.stdout.isTTY ? 'warn' : 'info';
  const logger = pino({ level: process.env['ENDWISE_LOG'] ?? usualLevel });
  const address = logAddress(options.database);
  const log = await Log.open(address);
  for (const sentence of tidiedWords(log)) console.error(`endwise: ${sentence}`);
  // Other servers may have shown codes of a shared log.
  if (!log.isShared) await log.devices.forgetCodes();
  const holder: Holder =
    options.archer === undefined
      ? KEEPER
      : {
          role: 'archer',
          archerId: chosenByName(await log.archers(), 'archer', options.archer).id,
        };
  const isQueue = isPostgresAddress(address);
  if (isQueue && options.workers !== undefined) {
    throw new Error('--workers: with a database, photos are read by "endwise worker".');
  }
  let metrics: Metrics | undefined;
  const readings = await openReadings({
    address,
    pool: {
      maxWaiting: 100,
      ...(options.workers === undefined ? {} : { workers: options.workers }),
    },
    onAsked: (seconds) => metrics?.asked(seconds),
    onRead: (outcome) => metrics?.read(outcome),
  });
  if (options.watch !== undefined) metrics = await createMetrics(() => readings.figures());
  await removeLeftovers();
  const uploads = await ownTemporaryFolder('uploads');
  const told = toldToEnd();
  const webFolder = existsSync(WEB) ? WEB : null;
  const app = createApp({
    readings,
    // Without a queue nobody else could answer.
    ...(isQueue ? { closing: told } : {}),
    sizes: () => rememberedSizes(),
    webFolder,
    uploadFolder: uploads.path,
    log,
    logger,
    names: options.names,
    version: options.version,
  });
  const server = await listen(app, {
    host: options.host,
    port: options.port,
    patience: { graceMs: options.graceSeconds * 1000 },
  });
  const watching = await watchWhereAsked(options.watch, metrics, () =>
    checkReady({ readings, webFolder, closing: told }),
  );
  console.log(`endwise is at ${server.url}${options.demo ? '?demo' : ''}`);
  const onNetwork = !LOOPBACK.has(options.host);
  if (onNetwork || options.names.length > 0) {
    const code = await log.devices.newCode(holder);
    for (const name of options.names) {
      console.log(`For others it is at https://${name}/, where the code ${code} pairs a device.`);
    }
    if (onNetwork) {
      console.log(await phoneGuide({ addresses: networkAddresses(), port: server.port, code }));
    }
    log.devices.onTried = (paired) => void showNextCode(log, holder, paired);
  }
  if (process.stdout.isTTY) console.log('Ctrl-C ends it.');
  if (watching) console.log(`How it does is told at ${watching.url}metrics`);
  if (isQueue) console.log('Photos wait in the database for "endwise worker" to read them.');
  await whenAborted(told);
  console.log('Finishing what is being read ...');
  await server.close();
  await watching?.close();
  await readings.close();
  await log.close();
  await uploads.remove();
}

/** One code lets one device in: for the next there is another, also where the last grew too old. */
async function showNextCode(log: Log, holder: Holder, paired: boolean): Promise<void> {
  if (await log.devices.hasOpenCode()) return;
  const code = await log.devices.newCode(holder);
  const said = paired ? 'A device is paired. For another' : 'For a device';
  console.log(`${said}, the code is ${code}, good for ${CODE_MINUTES} minutes.`);
}
