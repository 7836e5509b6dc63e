import { spawn, type ChildProcess } from 'node:child_process';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

export const ENDWISE = fileURLToPath(new URL('../../server/cli/endwise.mjs', import.meta.url));

/** A process that ended is started again after so long, ms. */
const DOWN_MS = 1_000;

/** A process that is started again when it ends, until it is no longer wanted. */
export class Kept {
  readonly #args: readonly string[];
  readonly #env: NodeJS.ProcessEnv;
  #child: ChildProcess | null = null;
  #printed = '';
  #isWanted = true;

  constructor(args: readonly string[], env: NodeJS.ProcessEnv) {
    this.#args = args;
    this.#env = env;
    this.#start();
  }

  /** @returns whether it was there to be killed */
  kill(): boolean {
    const isThere = this.#child?.exitCode === null && this.#child.signalCode === null;
    return isThere && this.#child!.kill('SIGKILL');
  }

  end(): void {
    this.#isWanted = false;
    this.kill();
  }

  /** Tells it to end, as a supervisor does, and waits until another one has printed that line. */
  async restart(ready: RegExp): Promise<void> {
    const ended = new Promise((resolve) => this.#child!.once('exit', resolve));
    this.#child!.kill('SIGTERM');
    await ended;
    this.#printed = '';
    await this.line(ready);
  }

  /** Of the one that runs, or that ran last. */
  get pid(): number {
    return this.#child!.pid!;
  }

  async line(pattern: RegExp): Promise<string> {
    while (!pattern.test(this.#printed)) await wait(50);
    return pattern.exec(this.#printed)![0];
  }

  #start(): void {
    if (!this.#isWanted) return;
    const stdio = ['ignore', 'pipe', 'ignore'] as const;
    this.#child = spawn(process.execPath, this.#args, { env: this.#env, stdio: [...stdio] });
    this.#child.stdout!.on('data', (chunk: Buffer) => (this.#printed += chunk.toString()));
    this.#child.once('exit', () => setTimeout(() => this.#start(), DOWN_MS));
  }
}
