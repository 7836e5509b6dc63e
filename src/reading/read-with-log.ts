import { groupsOf } from '../groups/groups-of.ts';
import { learnRecord } from '../trends/learn-record.ts';
import { trendEnds } from '../trends/trend-ends.ts';
import { readLog } from '../tuning/read-log.ts';
import { readTuning } from '../tuning/read-tuning.ts';
import { setUpAt } from '../tuning/record/set-up-at.ts';
import type { BowLog } from '../tuning/record/bow-log.ts';
import type { Archer, End, Session } from '../tuning/record/session.ts';
import type { Bow, SetUp } from '../tuning/bow/set-up.ts';
import { arrowsOfMarks } from './arrows-of-marks.ts';
import type { Reading } from './reading.ts';
import type { ReadingRequest } from '../request/request.ts';

/** What the log knows of who shot an end and with what: sessions and ends with every bow, set-ups of `bow`. */
export interface KnownOfArcher extends BowLog {
  readonly archer: Archer;
  /** Null where nobody said which of several bows: then the record alone is used. */
  readonly bow: Bow | null;
  /** The set-up that a person named; null leaves it to the log. */
  readonly setUpId: string | null;
}

/** A reading's id among the log's ends, where it is not kept yet. */
const THIS_END = 'this-reading';

/**
 * A reading judged with the archer's log: their usual spread and ratio of bare to fletched as prior
 * of the offset, the bow's response as what the advice rests on, the set-up's preferred offset and
 * the bow's hand. The end itself counts as the bow's newest. Without a distance nothing of the log
 * can be used, and a warning says so.
 * @param at when the end was shot, ISO date and time
 */
export function readWithLog(
  reading: Reading,
  request: Pick<ReadingRequest, 'hand' | 'distanceM' | 'preferredMrad'>,
  known: KnownOfArcher,
  at: string,
): Reading {
  const { archer, bow, setUps, setUpId } = known;
  const { distanceM } = request;
  const hand = bow?.hand ?? archer.hand;
  const notes: string[] = [];
  if (request.hand === 'left' && hand === 'right') {
    notes.push(`The log says that ${bow?.name ?? archer.name} is right-handed: that counts.`);
  }
  if (distanceM === undefined) {
    notes.push(`No distance was given, so what the log knows of ${archer.name} was not used.`);
  }
  const record =
    distanceM === undefined ? undefined : (learnRecord(trendEnds(known), { at }) ?? undefined);
  const own = reading.marks.filter((mark) => mark.age !== 'old');
  const groups = groupsOf(own, { distanceM, record });
  const setUp = setUps.find(({ id }) => id === setUpId) ?? setUpAt(known, at);
  const asked = request.preferredMrad.some((mrad) => mrad !== 0);
  const preferredMrad = asked || !setUp ? request.preferredMrad : setUp.preferredMrad;
  const log =
    bow && setUp && distanceM !== undefined && groups.offset
      ? readLog(
          bow,
          { setUps, ...withThisEnd(reading, { ...known, bow, setUp, distanceM, at }) },
          { setUpId: setUp.id, record, distanceM, preferredMrad },
        )
      : null;
  return {
    ...reading,
    groups,
    tuning: readTuning(groups, {
      hand,
      distanceM,
      preferredMrad,
      record,
      ...(log ? { log } : {}),
    }),
    warnings: [...reading.warnings, ...notes],
  };
}

interface ThisEnd extends KnownOfArcher {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly distanceM: number;
  readonly at: string;
}

/** The bow's sessions and ends with the one that was just read, in that day's session if there is one. */
function withThisEnd(
  { face, marks }: Reading,
  { bow, setUp, distanceM, at, archer, ends, sessions }: ThisEnd,
): { sessions: Session[]; ends: End[] } {
  const own = sessions.filter((session) => session.bowId === bow.id);
  const ids = new Set(own.map(({ id }) => id));
  const session: Session = own.find(
    (one) => one.date.slice(0, 10) === at.slice(0, 10) && one.distanceM === distanceM,
  ) ?? {
    id: THIS_END,
    archerId: archer.id,
    bowId: bow.id,
    setUpId: setUp.id,
    date: at,
    place: '',
    setting: null,
    wind: '',
    distanceM,
    face,
    notes: '',
  };
  const end: End = {
    id: THIS_END,
    sessionId: session.id,
    setUpId: setUp.id,
    shotAt: at,
    arrows: arrowsOfMarks(marks),
    missed: { fletched: 0, bare: 0 },
    photo: null,
    setAside: false,
    notes: '',
  };
  return {
    sessions: ids.has(session.id) ? own : [...own, session],
    ends: [...ends.filter((one) => ids.has(one.sessionId)), end],
  };
}
