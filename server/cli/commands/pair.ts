import type { Command } from 'commander';
import type { Device, Holder } from '../../log/device-store.ts';
import type { Log } from '../../log/log.ts';
import { chosenArcher, chosenCoach } from '../options/chosen-of-log.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { withLog } from '../options/with-log.ts';
import { UsageError } from '../terminal/exit.ts';
import { print } from '../terminal/print.ts';

/** Pairing codes and paired devices, for a server that listens on the network. */
export function addPairCommands(program: Command): void {
  program
    .command('pair')
    .description(
      'a pairing code for one device on the network, for 15 minutes; without a name for a ' +
        "keeper's, which may do everything",
    )
    .option('--archer <archer>', "for an archer's device, by id or name")
    .option('--coach <coach>', "for a coach's device, by id or name (endwise coaches makes them)")
    .option('--label <words>', 'what the device is called in lists and in the trail')
    .addOption(databaseOption())
    .action(pair);
  program
    .command('devices')
    .description('paired devices, and whom they belong to')
    .option('--revoke <id>', "end one device's access, or that of all with the id all")
    .addOption(databaseOption())
    .action(devices);
}

interface PairOptions extends LogOptions {
  archer?: string;
  coach?: string;
  label?: string;
}

/** Longer ones are no names of devices. */
const MOST_LABEL = 80;

async function pair({ archer, coach, label, ...options }: PairOptions): Promise<void> {
  if (archer !== undefined && coach !== undefined) {
    throw new UsageError('Name an archer or a coach: a device belongs to one of them.');
  }
  if (label !== undefined && label.length > MOST_LABEL) {
    throw new UsageError(`--label: at most ${MOST_LABEL} letters.`);
  }
  await withLog(options, async (log) => {
    const { COMMAND_LINE } = await import('../../log/trail.ts');
    const holder = await holderNamed(log, archer, coach);
    print(await log.devices.newCode(holder, { label: label?.trim(), by: COMMAND_LINE }));
  });
}

async function holderNamed(log: Log, archer?: string, coach?: string): Promise<Holder> {
  if (archer !== undefined) {
    return { role: 'archer', archerId: (await chosenArcher(log, archer)).id };
  }
  if (coach !== undefined) return { role: 'coach', coachId: (await chosenCoach(log, coach)).id };
  return { role: 'keeper' };
}

async function devices({ revoke, ...options }: { revoke?: string } & LogOptions): Promise<void> {
  await withLog(options, async (log) => {
    if (revoke !== undefined) {
      const ended = await log.devices.revoke(revoke === 'all' ? undefined : revoke);
      if (ended === 0 && revoke !== 'all') throw new UsageError(`There is no device "${revoke}".`);
      print(`${ended} devices have no access any more.`);
      return;
    }
    const coaches = new Map((await log.coaches.coaches()).map(({ id, name }) => [id, name]));
    for (const device of await log.devices.devices()) {
      const { id, label, pairedAt } = device;
      print(`${id}  since ${pairedAt.slice(0, 10)}  ${holderWords(device, coaches)}  "${label}"`);
    }
  });
}

function holderWords({ holder }: Device, coaches: ReadonlyMap<string, string>): string {
  switch (holder.role) {
    case 'archer':
      return `of the archer ${holder.archerId}`;
    case 'coach':
      return `of the coach ${coaches.get(holder.coachId) ?? holder.coachId}`;
    case 'keeper':
      return "a keeper's: everything";
  }
}
