import type { LoggedEnd } from '../../server/log/log.ts';
import { sha256 } from '../../server/log/photo-store.ts';
import { USUAL_SCORING } from '../../src/face/scoring.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';
import { archerSchema, sessionSchema } from '../../src/tuning/record/session.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';

const ENDS_OF_ARCHER = 500;
const ENDS_OF_SESSION = 12;
const SESSIONS_OF_SET_UP = 6;
const DAY_MS = 24 * 3600_000;

/** The log of an invented club: 500 ends of six arrows for each archer, a few set-ups of one bow. */
export function clubLog(ends: number): WholeLog<LoggedEnd> {
  const archers = Array.from({ length: Math.ceil(ends / ENDS_OF_ARCHER) }, (_, number) =>
    archerSchema.parse({ id: `archer-${number}`, name: `Archer ${number}`, hand: 'right' }),
  );
  const bows = archers.map(({ id }) =>
    bowSchema.parse({
      id: `${id}-bow`,
      archerId: id,
      name: 'Outdoor bow',
      hand: 'right',
      adjusters: standardAdjusters(),
    }),
  );
  const sessions = archers.flatMap(({ id }) =>
    Array.from({ length: Math.ceil(ENDS_OF_ARCHER / ENDS_OF_SESSION) }, (_, number) =>
      sessionSchema.parse({
        id: `${id}-session-${number}`,
        archerId: id,
        bowId: `${id}-bow`,
        setUpId: `${id}-set-up-${Math.floor(number / SESSIONS_OF_SET_UP)}`,
        date: dateOf(number),
        place: 'Heron meadow',
        setting: 'outdoor',
        distanceM: [18, 30, 50][number % 3],
        face: 'wa80',
      }),
    ),
  );
  const setUps = [...new Set(sessions.map(({ setUpId }) => setUpId))].map((id, number) =>
    setUpSchema.parse({
      id,
      bowId: id.replace(/-set-up-\d+$/, '-bow'),
      name: id,
      date: dateOf((number % 7) * SESSIONS_OF_SET_UP),
      settings: { plunger: { type: 'dial', line: 2, mark: number % 10 } },
    }),
  );
  return {
    archers,
    bows,
    setUps,
    sessions,
    ends: Array.from({ length: ends }, (_, number) => endOf(number)),
  };
}

/** The same with ids as long as those that a page gives: they take much of the room. */
export function withLongIds(log: WholeLog<LoggedEnd>): WholeLog<LoggedEnd> {
  const long = (id: string) =>
    sha256(Buffer.from(id)).replace(/^(.{8})(.{4})(.{4})(.{4})(.{12}).*/, '$1-$2-$3-$4-$5');
  return {
    archers: log.archers.map((one) => ({ ...one, id: long(one.id) })),
    bows: log.bows.map((one) => ({ ...one, id: long(one.id), archerId: long(one.archerId) })),
    setUps: log.setUps.map((one) => ({ ...one, id: long(one.id), bowId: long(one.bowId) })),
    sessions: log.sessions.map((one) => ({
      ...one,
      id: long(one.id),
      archerId: long(one.archerId),
      bowId: long(one.bowId),
      setUpId: long(one.setUpId),
    })),
    ends: log.ends.map((one) => ({
      ...one,
      id: long(one.id),
      sessionId: long(one.sessionId),
      setUpId: long(one.setUpId),
    })),
  };
}

function endOf(number: number): LoggedEnd {
  const archer = `archer-${Math.floor(number / ENDS_OF_ARCHER)}`;
  const session = Math.floor((number % ENDS_OF_ARCHER) / ENDS_OF_SESSION);
  return {
    id: `end-${number}`,
    sessionId: `${archer}-session-${session}`,
    setUpId: `${archer}-set-up-${Math.floor(session / SESSIONS_OF_SET_UP)}`,
    shotAt: new Date(
      Date.parse(dateOf(session)) + (number % ENDS_OF_SESSION) * 300_000,
    ).toISOString(),
    arrows: Array.from({ length: 6 }, (_, arrow) => ({
      id: `m${arrow}`,
      mm: [spread(number * 6 + arrow), spread(number * 6 + arrow + 3_000_001)] as [number, number],
      sdMm: 0.4,
      spot: 0,
      kind: arrow < 4 ? ('fletched' as const) : ('bare' as const),
      zone: 9,
      inner: false,
    })),
    missed: { fletched: 0, bare: 0 },
    photo: null,
    setAside: false,
    notes: '',
    sourceSha256: null,
    scoring: USUAL_SCORING,
  };
}

function dateOf(session: number): string {
  return new Date(Date.parse('2031-01-04T17:00:00Z') + session * 4 * DAY_MS).toISOString();
}

/** Some 40 mm, by a multiplier of Knuth's, The Art of Computer Programming 2, section 3.3.4 (from memory). */
function spread(seed: number): number {
  return ((((seed * 2654435761) % 4294967296) / 4294967296) * 2 - 1) * 40;
}
