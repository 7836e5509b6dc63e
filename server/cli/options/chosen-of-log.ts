import type { Bow, SetUp } from '../../../src/tuning/bow/set-up.ts';
import type { Archer } from '../../../src/tuning/record/session.ts';
import { chosenByName } from '../../log/chosen-by-name.ts';
import type { Coach } from '../../log/coach-store.ts';
import { LogError } from '../../log/log-error.ts';
import type { Log } from '../../log/log.ts';
import { UsageError } from '../terminal/exit.ts';

/** The bow that was named by id or name; without a name, the only one there is. @throws UsageError */
export async function chosenBow(log: Log, named: string | undefined): Promise<Bow> {
  const bows = await log.bows();
  if (bows.length === 0) {
    throw new UsageError('There is no bow in the log yet: add one on the page.');
  }
  if (named !== undefined) return asked(() => chosenByName(bows, 'bow', named));
  if (bows.length === 1) return bows[0]!;
  const list = bows.map((bow) => `${bow.id} (${bow.name})`).join(', ');
  throw new UsageError(`Name one bow with --bow: ${list}.`);
}

/** The archer that was named by id or name. @throws UsageError */
export async function chosenArcher(log: Log, named: string): Promise<Archer> {
  const archers = await log.archers();
  return asked(() => chosenByName(archers, 'archer', named));
}

/** The coach that was named by id or name. @throws UsageError */
export async function chosenCoach(log: Log, named: string): Promise<Coach> {
  const coaches = await log.coaches.coaches();
  return asked(() => chosenByName(coaches, 'coach', named));
}

/** The set-up that was named by id or name. @throws UsageError */
export function chosenSetUp(setUps: readonly SetUp[], named: string): SetUp {
  return asked(() => chosenByName(setUps, 'set-up', named));
}

/** What the log does not know of was asked for by the command line. */
function asked<T>(choose: () => T): T {
  try {
    return choose();
  } catch (error) {
    throw error instanceof LogError ? new UsageError(error.message) : error;
  }
}
