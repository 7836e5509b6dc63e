import type { BowLog, WholeLog } from '../tuning/record/bow-log.ts';
import type { Archer, End } from '../tuning/record/session.ts';
import type { Bow } from '../tuning/bow/set-up.ts';

/** What the log knows of who shot an end and with what: sessions and ends with every bow, set-ups of `bow`. */
export interface KnownOfArcher<E extends End = End> extends BowLog<E> {
  readonly archer: Archer;
  /** Null where nobody said which of several bows: then the record alone is used. */
  readonly bow: Bow | null;
  /** The set-up that a person named; null leaves it to the log. */
  readonly setUpId: string | null;
}

/** Ids in the log; what is null nobody said. */
export interface Shot {
  readonly archerId: string;
  /** @default the archer's only bow */
  readonly bowId: string | null;
  /** @default the one that the bow was shot with last, or that was written down since */
  readonly setUpId: string | null;
  /** Tells the end in hand among the log's ends, where it is kept already: it counts once. */
  readonly isThisEnd: (end: End) => boolean;
}

/**
 * What a log knows of who shot an end, gathered by one rule for every shell. Null where the archer is
 * not in it.
 */
export function knownOfShot(log: WholeLog, shot: Shot): KnownOfArcher | null {
  const archer = log.archers.find(({ id }) => id === shot.archerId);
  if (!archer) return null;
  const bows = log.bows.filter((bow) => bow.archerId === archer.id);
  const bow =
    shot.bowId === null
      ? bows.length === 1
        ? bows[0]!
        : null
      : (bows.find(({ id }) => id === shot.bowId) ?? null);
  const sessions = log.sessions.filter((session) => session.archerId === archer.id);
  const ids = new Set(sessions.map(({ id }) => id));
  const inTime = (a: string, b: string) => Date.parse(a) - Date.parse(b);
  return {
    archer,
    bow,
    setUps: log.setUps
      .filter((setUp) => setUp.bowId === bow?.id)
      .sort((a, b) => inTime(a.date, b.date)),
    sessions,
    ends: log.ends
      .filter((end) => ids.has(end.sessionId) && !shot.isThisEnd(end))
      .sort((a, b) => inTime(a.shotAt, b.shotAt)),
    setUpId: bow === null ? null : shot.setUpId,
  };
}
