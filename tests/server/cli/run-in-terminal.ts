import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const ENDWISE = fileURLToPath(new URL('../../../server/cli/endwise.mjs', import.meta.url));

/** Where `script` of util-linux, which every Linux distribution has, gives a command a terminal. */
export const HAS_TERMINAL = process.platform === 'linux';

export interface InTerminal {
  readonly status: number;
  /** What stood on the terminal, both streams. */
  readonly screen: string;
}

export interface RunInTerminalOptions {
  readonly folder: string;
  /** Ends the command as the interrupt key does, once this stands on the terminal. */
  readonly interruptAt?: RegExp;
}

/** Runs the command as a person does, at a terminal of its own. */
export function runInTerminal(
  args: readonly string[],
  { folder, interruptAt }: RunInTerminalOptions,
): Promise<InTerminal> {
  const line = `exec ${[process.execPath, ENDWISE, ...args].map(quoted).join(' ')}`;
  return new Promise((resolve, reject) => {
    // What `script` reads, it types into the terminal.
    const child = spawn('script', ['-qec', line, '/dev/null'], {
      cwd: folder,
      env: { ...process.env, ENDWISE_DATA: `${folder}/data`, TERM: 'xterm', SHELL: '/bin/sh' },
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    let screen = '';
    let interrupted = false;
    child.stdout.on('data', (chunk: Buffer) => {
      screen += chunk.toString();
      if (interruptAt?.test(screen) && !interrupted) {
        interrupted = true;
        child.stdin.write('\x03');
      }
    });
    child.on('error', reject);
    child.on('close', (status) => resolve({ status: status ?? -1, screen }));
  });
}

function quoted(word: string): string {
  return `'${word.replaceAll("'", `'\\''`)}'`;
}
