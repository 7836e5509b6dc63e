import { InvalidArgumentError, type Command } from 'commander';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { watchOption } from '../options/watch-option.ts';
import type { WatchAddress } from '../../watch/watch-server.ts';
import { endwiseVersion } from '../terminal/version.ts';

interface ServeCommandOptions extends LogOptions {
  port: number;
  workers?: number;
  phone?: true;
  host?: string;
  name: string[];
  archer?: string;
  grace?: number;
  demo?: true;
  metrics?: WatchAddress;
}

const ALL_NETWORKS = '0.0.0.0';

export function addServeCommand(program: Command): void {
  program
    .command('serve')
    .description('serve the page, and the log for paired devices')
    .option('--phone', 'for a phone in the same Wi-Fi: prints address, code and QR code for it')
    .option('--port <n>', 'port; the next free one is taken when it is in use', port, 4170)
    .option('--host <address>', "listen on this address alone of the machine's (127.0.0.1)")
    .option(
      '--name <name>',
      'the name by which it is known behind a proxy, as often as needed',
      (name: string, names: string[]) => [...names, hostName(name)],
      [],
    )
    .option('--archer <archer>', 'the code is for a device of this archer alone, by id or name')
    .option('--workers <n>', 'photos read at once (the number of cores)', count)
    .option(
      '--grace <s>',
      'seconds that what is being sent when it ends may still take (20)',
      grace,
    )
    .option('--demo', 'print the address at which the page opens with the demo end')
    .addOption(watchOption())
    .addOption(databaseOption())
    .action(run);
}

async function run(options: ServeCommandOptions): Promise<void> {
  const { serve } = await import('../../http/serve.ts');
  const { GRACE_SECONDS } = await import('../../http/listen.ts');
  await serve({
    port: options.port,
    host: options.host ?? (options.phone ? ALL_NETWORKS : '127.0.0.1'),
    names: options.name,
    workers: options.workers,
    graceSeconds: options.grace ?? GRACE_SECONDS,
    watch: options.metrics,
    archer: options.archer,
    database: options.database,
    demo: options.demo ?? false,
    version: await endwiseVersion(),
  });
}

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

function grace(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0 || value > 600) {
    throw new InvalidArgumentError('Seconds, a whole number from 0 to 600.');
  }
  return value;
}

function hostName(text: string): string {
  if (!/^[a-z0-9-]+(\.[a-z0-9-]+)*$/i.test(text)) {
    throw new InvalidArgumentError('A name like bows.example.org, without https:// and path.');
  }
  return text.toLowerCase();
}
