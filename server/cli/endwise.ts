#!/usr/bin/env tsx
import { Command, CommanderError } from 'commander';
import { addReadCommand } from './commands/read.ts';
import { addBatchCommand } from './commands/batch.ts';
import { addOffsetCommand } from './commands/offset.ts';
import { EXIT, UsageError } from './exit.ts';

/**
 * The command line. Each command imports what it needs when it runs, so that a short one starts fast.
 */
const program = new Command('endwise')
  .description('Reads target photos and tells an archer what the bare shafts say about the bow.')
  .exitOverride()
  .showHelpAfterError('(endwise --help tells what there is)')
  .configureOutput({ outputError: (text, write) => write(text) });

addReadCommand(program);
addBatchCommand(program);
addOffsetCommand(program);

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = exitCodeOf(error);
}
// OpenCV's module keeps the process alive; what was written must still reach its reader.
await Promise.all([flushed(process.stdout), flushed(process.stderr)]);
process.exit();

function exitCodeOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.usage;
  const usage = error instanceof UsageError;
  const message = error instanceof Error ? error.message : String(error);
  process.stderr.write(`endwise: ${message}\n`);
  if (!usage && process.env['ENDWISE_DEBUG'] !== undefined) console.error(error);
  return usage ? EXIT.usage : EXIT.unreadable;
}

function flushed(stream: NodeJS.WriteStream): Promise<void> {
  return new Promise((resolve) => stream.write('', () => resolve()));
}
