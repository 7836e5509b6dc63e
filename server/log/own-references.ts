import { randomUUID } from 'node:crypto';
import type { Archer, End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';

export interface References {
  readonly archers: readonly Pick<Archer, 'id' | 'hand'>[];
  readonly bows: readonly Pick<Bow, 'id' | 'archerId'>[];
  readonly setUps: readonly Pick<SetUp, 'id' | 'bowId'>[];
  readonly sessions: readonly Pick<Session, 'id' | 'archerId' | 'bowId' | 'setUpId'>[];
  readonly ends: readonly Pick<End, 'id' | 'sessionId' | 'setUpId'>[];
}

export interface HealedReferences {
  readonly newBows: readonly Bow[];
  readonly newSetUps: readonly SetUp[];
  /** Those that change. */
  readonly sessions: readonly Pick<Session, 'id' | 'bowId' | 'setUpId'>[];
  readonly ends: readonly Pick<End, 'id' | 'setUpId'>[];
}

const BLANK_NAME = 'Not written down';
/** Before anything else, so that it never counts as a change. */
const BLANK_DATE = '2000-01-01T00:00:00.000Z';

/**
 * What to change so that every session and end names a bow and a set-up of its own archer: where it
 * names another's, or one that is not there, it gets a blank one. What is shot stays as it is.
 */
export function ownReferences(log: References): HealedReferences {
  const handOf = new Map(log.archers.map(({ id, hand }) => [id, hand]));
  const ownerOfBow = new Map(log.bows.map(({ id, archerId }) => [id, archerId]));
  const ownerOfSetUp = new Map(log.setUps.map(({ id, bowId }) => [id, ownerOfBow.get(bowId)]));
  const newBows = new Map<string, Bow>();
  const newSetUps = new Map<string, SetUp>();

  const blankBow = (archerId: string): string => {
    const bow = newBows.get(archerId) ?? {
      id: randomUUID(),
      archerId,
      name: BLANK_NAME,
      hand: handOf.get(archerId) ?? 'right',
      adjusters: [],
      notes: '',
    };
    newBows.set(archerId, bow);
    return bow.id;
  };
  const blankSetUp = (bowId: string): string => {
    const setUp = newSetUps.get(bowId) ?? {
      id: randomUUID(),
      bowId,
      name: BLANK_NAME,
      date: BLANK_DATE,
      settings: {},
      preferredMrad: [0, 0],
      notes: '',
    };
    newSetUps.set(bowId, setUp);
    return setUp.id;
  };

  const sessions = log.sessions.map((session) => {
    const { id, archerId } = session;
    const ownBow = ownerOfBow.get(session.bowId) === archerId;
    const ownSetUp = ownerOfSetUp.get(session.setUpId) === archerId;
    const bowId = ownBow ? session.bowId : blankBow(archerId);
    return {
      id,
      archerId,
      bowId,
      setUpId: ownSetUp ? session.setUpId : blankSetUp(bowId),
      changed: !ownBow || !ownSetUp,
    };
  });
  const sessionOf = new Map(sessions.map((session) => [session.id, session]));
  const ends = log.ends.flatMap(({ id, sessionId, setUpId }) => {
    const session = sessionOf.get(sessionId);
    if (!session || ownerOfSetUp.get(setUpId) === session.archerId) return [];
    return [{ id, setUpId: blankSetUp(session.bowId) }];
  });
  return {
    newBows: [...newBows.values()],
    newSetUps: [...newSetUps.values()],
    sessions: sessions
      .filter(({ changed }) => changed)
      .map(({ id, bowId, setUpId }) => ({ id, bowId, setUpId })),
    ends,
  };
}
