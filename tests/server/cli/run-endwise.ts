import { vi } from 'vitest';
import { runCommand } from '../../../server/cli/run-command.ts';

export interface Ran {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the command line in this process and catches what it prints; paths must be absolute. */
export async function runEndwise(args: readonly string[], folder: string): Promise<Ran> {
  const printed = { stdout: '', stderr: '' };
  const spies = (['stdout', 'stderr'] as const).map((name) =>
    vi.spyOn(process[name], 'write').mockImplementation((chunk) => {
      printed[name] += chunk.toString();
      return true;
    }),
  );
  vi.stubEnv('ENDWISE_DATA', `${folder}/data`);
  try {
    return { status: await runCommand(args), ...printed };
  } finally {
    spies.forEach((spy) => spy.mockRestore());
    vi.unstubAllEnvs();
    process.exitCode = 0;
  }
}
