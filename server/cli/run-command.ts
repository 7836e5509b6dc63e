import { Command, CommanderError } from 'commander';
import { addArchiveCommands } from './commands/archive-commands.ts';
import { addBatchCommand } from './commands/batch.ts';
import { addClubCommands } from './commands/club-commands.ts';
import { addCompareCommand } from './commands/compare.ts';
import { addDoctorCommand } from './commands/doctor.ts';
import { addOffsetCommand } from './commands/offset.ts';
import { addPairCommands } from './commands/pair.ts';
import { addQueueCommands } from './commands/queue-commands.ts';
import { addReadCommand } from './commands/read.ts';
import { addServeCommand } from './commands/serve.ts';
import { addSetUpsCommand } from './commands/set-ups.ts';
import { addSheetsCommand } from './commands/sheets.ts';
import { addSiteCommand } from './commands/site.ts';
import { addTrendCommand } from './commands/trend.ts';
import { EXIT, UsageError } from './terminal/exit.ts';
import { endwiseVersion } from './terminal/version.ts';

/**
 * Runs one command line. Each command imports what it needs when it runs, so that a short one starts
 * fast.
 * @param args without the names of node and script
 * @returns the exit status
 */
export async function runCommand(args: readonly string[]): Promise<number> {
  const program = new Command('endwise')
    .description('Reads target photos and tells an archer what the bare shafts say about the bow.')
    .version(await endwiseVersion(), '-V, --version', 'print the version')
    .exitOverride()
    .showHelpAfterError('(endwise --help tells what there is)');
  addReadCommand(program);
  addBatchCommand(program);
  addSheetsCommand(program);
  addOffsetCommand(program);
  addSetUpsCommand(program);
  addTrendCommand(program);
  addCompareCommand(program);
  addArchiveCommands(program);
  addServeCommand(program);
  addQueueCommands(program);
  addSiteCommand(program);
  addPairCommands(program);
  addClubCommands(program);
  addDoctorCommand(program);
  try {
    process.exitCode = EXIT.done;
    await program.parseAsync(args, { from: 'user' });
    return Number(process.exitCode ?? EXIT.done);
  } catch (error) {
    return statusOf(error);
  }
}

function statusOf(error: unknown): number {
  // Commander has said what is wrong itself.
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.usage;
  const usage = error instanceof UsageError;
  const message = error instanceof Error ? error.message : String(error);
  process.stderr.write(`endwise: ${message}\n`);
  if (!usage && process.env['ENDWISE_DEBUG'] !== undefined) console.error(error);
  return usage ? EXIT.usage : EXIT.unreadable;
}
