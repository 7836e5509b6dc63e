import { runCommand } from './run-command.ts';

const status = await runCommand(process.argv.slice(2));
// OpenCV's module keeps the process alive; what was written must still reach its reader.
await Promise.all([flushed(process.stdout), flushed(process.stderr)]);
process.exit(status);

function flushed(stream: NodeJS.WriteStream): Promise<void> {
  return new Promise((resolve) => stream.write('', () => resolve()));
}
