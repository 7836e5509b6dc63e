import { nativeWorkOver } from '../processes/native-work.ts';
import { runCommand } from './run-command.ts';

// A reader that has had enough (`| head`) is no fault: the rest is written for nobody.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}

void runCommand(process.argv.slice(2)).then(async (status) => {
  // OpenCV's module keeps the process alive; what was written must still reach its reader.
  await Promise.all([flushed(process.stdout), flushed(process.stderr), nativeWorkOver()]);
  process.exit(status);
});

function flushed(stream: NodeJS.WriteStream): Promise<void> {
  return new Promise((resolve) => stream.write('', () => resolve()));
}
