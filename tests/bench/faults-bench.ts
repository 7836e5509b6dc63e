import { random as seeded } from '../groups/random.ts';
import { damageMany } from './faults/damages.ts';
import { fillDisks } from './faults/full-disks.ts';
import { killMany } from './faults/kills.ts';

export interface FaultsOptions {
  readonly kills?: string;
  readonly disks?: string;
  readonly damages?: string;
  readonly seed?: string;
}

/** What a log goes through on a poor machine: killed processes, full disks, damaged files. */
export async function faultsBench(options: FaultsOptions): Promise<void> {
  const seed = Number(options.seed ?? 1);
  const counted = async (what: string, work: () => Promise<object | null> | object | null) => {
    const start = performance.now();
    const report = await work();
    const seconds = Math.round((performance.now() - start) / 1000);
    console.log(`${what}, ${seconds} s: ${JSON.stringify(report ?? 'none can be mounted here')}`);
    const { findings } = (report ?? { findings: [] }) as { findings: readonly string[] };
    if (findings.length > 0) process.exitCode = 1;
  };
  const damages = Number(options.damages ?? 50);
  const disks = Number(options.disks ?? 50);
  const kills = Number(options.kills ?? 1000);
  await counted(`${damages} damages`, () => damageMany(damages, seeded(seed).uniform));
  await counted(`${disks} full disks`, () => fillDisks(disks, seed));
  await counted(`${kills} kills`, () => killMany(kills, seeded(seed).uniform));
}
