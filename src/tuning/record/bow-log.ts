import type { Bow, SetUp } from '../bow/set-up.ts';
import type { Archer, End, Session } from './session.ts';

/** What was written down of one bow, or of several: set-ups, and the sessions and ends they shot. */
export interface BowLog<E extends End = End> {
  readonly setUps: readonly SetUp[];
  readonly sessions: readonly Session[];
  readonly ends: readonly E[];
}

/** Everything that a log holds. */
export interface WholeLog<E extends End = End> extends BowLog<E> {
  readonly archers: readonly Archer[];
  readonly bows: readonly Bow[];
}
