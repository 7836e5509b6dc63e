import { InvalidArgumentError, type Command } from 'commander';
import type { TrailEntry } from '../../log/trail.ts';
import { chosenArcher, chosenCoach } from '../options/chosen-of-log.ts';
import { databaseOption, type LogOptions } from '../options/database-option.ts';
import { withLog } from '../options/with-log.ts';
import { UsageError } from '../terminal/exit.ts';
import { print } from '../terminal/print.ts';

/** Who is in a log, who coaches whom, and who changed what. */
export function addClubCommands(program: Command): void {
  program
    .command('archers')
    .description('who is in the log; or deletes one with everything of theirs')
    .option('--delete <archer>', 'by id or name: bows, ends, photos, devices, photos in the queue')
    .option('--yes', 'with --delete: do it; without, it is only said what would go')
    .addOption(databaseOption())
    .action(archers);
  program
    .command('coaches')
    .description('who coaches whom; with a name, changes that')
    .argument('[coach]', 'by id or name; a name that is new is a new coach, with --takes')
    .option('--takes <archer>', 'coaches this archer from now on; as often as needed', gathered, [])
    .option('--leaves <archer>', 'coaches them no more; as often as needed', gathered, [])
    .option('--delete', 'their devices have no access any more')
    .addOption(databaseOption())
    .action(coaches);
  program
    .command('trail')
    .description('who changed what, newest first; kept for two years')
    .option('--archer <archer>', 'of one archer, by id or name')
    .option('--since <day>', 'from this day on, like 2031-05-04', day)
    .option('--most <n>', 'entries at most', count, 200)
    .option('--json', 'one entry a line, as JSON')
    .addOption(databaseOption())
    .action(trail);
}

interface ArchersOptions extends LogOptions {
  delete?: string;
  yes?: true;
}

async function archers({ delete: named, yes, ...options }: ArchersOptions): Promise<void> {
  await withLog(options, async (log) => {
    if (named === undefined) {
      const coaches = await log.coaches.coaches();
      for (const { id, name } of await log.archers()) {
        const by = coaches.filter(({ archerIds }) => archerIds.includes(id));
        const coached =
          by.length === 0 ? '' : `  coached by ${by.map((one) => one.name).join(', ')}`;
        print(`${id}  ${name}${coached}`);
      }
      return;
    }
    const { id, name } = await chosenArcher(log, named);
    if (!yes) {
      const ends = await log.ends(id);
      const photos = ends.filter(({ photo }) => photo !== null);
      throw new UsageError(
        `${name} (${id}) with ${ends.length} ends and ${photos.length} photos would be deleted, ` +
          `which cannot be undone. "endwise export copy.zip --archer ${id}" takes a copy first; ` +
          'say --yes to delete.',
      );
    }
    const { ends, photos } = await log.deleteArcher(id);
    print(`The archer is deleted, with ${ends} ends and ${photos} photos.`);
  });
}

interface CoachesOptions extends LogOptions {
  takes: string[];
  leaves: string[];
  delete?: true;
}

async function coaches(named: string | undefined, options: CoachesOptions): Promise<void> {
  const { takes, leaves, delete: gone } = options;
  await withLog(options, async (log) => {
    const { COMMAND_LINE } = await import('../../log/trail.ts');
    if (named === undefined) {
      if (takes.length + leaves.length > 0 || gone) {
        throw new UsageError('Say which coach: endwise coaches NAME --takes ARCHER.');
      }
      for (const coach of await log.coaches.coaches()) {
        print(`${coach.id}  ${coach.name}  coaches ${coach.archerIds.join(', ') || 'nobody yet'}`);
      }
      return;
    }
    if (gone) {
      await log.coaches.delete((await chosenCoach(log, named)).id, COMMAND_LINE);
      print('The coach is deleted, and their devices have no access any more.');
      return;
    }
    const { newCoach } = await import('../../log/coach-store.ts');
    const all = await log.coaches.coaches();
    const known = all.some(({ id, name }) => id === named || isSameName(name, named));
    const coach = known || takes.length === 0 ? await chosenCoach(log, named) : newCoach(named);
    const archerIds = new Set(coach.archerIds);
    for (const one of takes) archerIds.add((await chosenArcher(log, one)).id);
    for (const one of leaves) archerIds.delete((await chosenArcher(log, one)).id);
    await log.coaches.put({ ...coach, archerIds: [...archerIds] }, COMMAND_LINE);
    print(`${coach.name} coaches ${[...archerIds].join(', ') || 'nobody'}.`);
  });
}

function isSameName(one: string, other: string): boolean {
  return one.trim().toLocaleLowerCase() === other.trim().toLocaleLowerCase();
}

interface TrailOptions extends LogOptions {
  archer?: string;
  since?: string;
  most: number;
  json?: true;
}

async function trail({ archer, since, most, json, ...options }: TrailOptions): Promise<void> {
  await withLog(options, async (log) => {
    const archerId = archer === undefined ? undefined : (await chosenArcher(log, archer)).id;
    for (const entry of await log.trail.entries({ archerId, since, most })) {
      print(json ? JSON.stringify(entry) : entryWords(entry));
    }
  });
}

/** '2031-05-04 18:03  keeper "range tablet"  changed end e-1 of ilka'. */
function entryWords({ at, by, done, kind, id, archerId }: TrailEntry): string {
  const who = `${by.role}${by.label === '' ? '' : ` "${by.label}"`}`;
  const what = `${done} ${kind}${id === null ? '' : ` ${id}`}`;
  const whose = archerId === null || archerId === id ? '' : ` of ${archerId}`;
  return `${at.slice(0, 16).replace('T', ' ')}  ${who}  ${what}${whose}`;
}

function gathered(one: string, all: string[]): string[] {
  return [...all, one];
}

function day(text: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text) || Number.isNaN(Date.parse(text))) {
    throw new InvalidArgumentError('A day like 2031-05-04.');
  }
  return text;
}

function count(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1 || value > 1_000_000) {
    throw new InvalidArgumentError('A whole number from 1 to 1000000.');
  }
  return value;
}
