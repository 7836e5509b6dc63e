import type { Command } from 'commander';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { UsageError } from '../terminal/exit.ts';
import { withLog } from '../options/with-log.ts';

/** Pairing codes and paired devices, for a server that listens on the network. */
export function addPairCommands(program: Command): void {
  program
    .command('pair')
    .description('a pairing code for one device on the network, for 15 minutes')
    .option('--archer <id>', 'lets in to this archer alone')
    .addOption(databaseOption())
    .action(pair);
  program
    .command('devices')
    .description('paired devices')
    .option('--revoke <id>', "end one device's access, or that of all with the id all")
    .addOption(databaseOption())
    .action(devices);
}

async function pair({ archer, ...options }: { archer?: string } & LogOptions): Promise<void> {
  await withLog(options, async (log) => {
    if (archer !== undefined && !(await log.archers()).some((one) => one.id === archer)) {
      throw new UsageError(`There is no archer "${archer}" in the log.`);
    }
    process.stdout.write(`${await log.devices.newCode(archer ?? null)}\n`);
  });
}

async function devices({ revoke, ...options }: { revoke?: string } & LogOptions): Promise<void> {
  await withLog(options, async (log) => {
    if (revoke !== undefined) {
      const ended = await log.devices.revoke(revoke === 'all' ? undefined : revoke);
      if (ended === 0 && revoke !== 'all') throw new UsageError(`There is no device "${revoke}".`);
      process.stdout.write(`${ended} devices have no access any more.\n`);
      return;
    }
    for (const device of await log.devices.devices()) {
      const sees = device.archerId ?? 'everything';
      process.stdout.write(`${device.id}  since ${device.pairedAt.slice(0, 10)}  sees ${sees}\n`);
    }
  });
}
