import { ENGLISH } from '../../src/words/words.ts';
import { sql, type Insertable, type Kysely } from 'kysely';
import { checkBow, checkSetUp } from '../../src/tuning/bow/check-set-up.ts';
import type { Archer, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { bowOf, setUpOf, type LoggedEnd } from './from-rows.ts';
import { LogError } from './log-error.ts';
import { sealOf } from './seal.ts';
import type { Tables } from './tables.ts';
import { needExpected, versionOfBow, versionOfSetUp, type Expected } from './version-of.ts';

type Tx = Kysely<Tables>;

export async function putArcher(tx: Tx, archer: Archer): Promise<void> {
  await replace(tx, 'archers', archerRow(archer));
}

/** @param expected the version that is changed */
export async function putBow(tx: Tx, bow: Bow, expected?: Expected): Promise<void> {
  const problem = checkBow(bow)[0];
  if (problem) throw new LogError('bad-set-up', problem.message);
  await needed(tx, 'archers', 'archer', bow.archerId);
  await refuseAnotherArcher(tx, 'bows', bow, 'bow');
  const before = await bowThere(tx, bow.id);
  needExpected('bow', before && versionOfBow(before), versionOfBow(bow), expected);
  await replace(tx, 'bows', bowRow(bow));
}

async function bowThere(tx: Tx, id: string): Promise<Bow | null> {
  const row = await tx.selectFrom('bows').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? bowOf(row) : null;
}

async function setUpThere(tx: Tx, id: string): Promise<SetUp | null> {
  const row = await tx.selectFrom('set_ups').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? setUpOf(row) : null;
}

export interface PutSetUpOptions {
  /** A bow may lose an adjuster later, only new set-ups are held against it. */
  readonly isNew?: boolean;
  /** The version that is corrected. */
  readonly expected?: Expected;
}

export async function putSetUp(
  tx: Tx,
  setUp: SetUp,
  { isNew = false, expected }: PutSetUpOptions = {},
): Promise<void> {
  const bow = await bowThere(tx, setUp.bowId);
  if (bow === null) throw unknown('bow', setUp.bowId);
  const before = await setUpThere(tx, setUp.id);
  needExpected('set-up', before && versionOfSetUp(before), versionOfSetUp(setUp), expected);
  const isCorrection = typeof expected === 'string' && before?.bowId === setUp.bowId;
  if (before !== null && !isCorrection) refuseChange(before, setUp);
  if (isNew && (before === null || isCorrection)) {
    const problem = checkSetUp(bow, setUp)[0];
    if (problem) throw new LogError('bad-set-up', problem.message);
  }
  await replace(tx, 'set_ups', setUpRow(setUp));
}

export async function putSession(tx: Tx, session: Session): Promise<void> {
  await needed(tx, 'archers', 'archer', session.archerId);
  await needOwnBow(tx, session.bowId, session.archerId);
  await needOwnSetUp(tx, session.setUpId, session.archerId);
  await refuseAnotherArcher(tx, 'sessions', session, 'session');
  await replace(tx, 'sessions', sessionRow(session));
}

export async function putEnd(tx: Tx, end: LoggedEnd): Promise<void> {
  const session = await tx
    .selectFrom('sessions')
    .select('archer_id')
    .where('id', '=', end.sessionId)
    .executeTakeFirst();
  if (session === undefined) throw unknown('session', end.sessionId);
  await needOwnSetUp(tx, end.setUpId, session.archer_id);
  await refuseSamePhoto(tx, end, session.archer_id);
  const arrows = arrowRows(end);
  await replace(tx, 'ends', endRow(end, session.archer_id), arrows);
  await tx.deleteFrom('arrows').where('end_id', '=', end.id).execute();
  if (arrows.length > 0) await tx.insertInto('arrows').values(arrows).execute();
}

export function archerRow({ id, name, hand, notes }: Archer): Omit<Tables['archers'], 'seal'> {
  return { id, name, hand, notes };
}

export function bowRow(bow: Bow): Omit<Tables['bows'], 'seal'> {
  const { id, archerId, name, hand, notes } = bow;
  const adjusters = JSON.stringify(bow.adjusters);
  const archived = Number(bow.archived ?? false);
  return { id, archer_id: archerId, name, hand, notes, adjusters, archived };
}

export function setUpRow(setUp: SetUp): Omit<Tables['set_ups'], 'seal'> {
  const { id, bowId, name, date, notes, preferredMrad } = setUp;
  return {
    id,
    bow_id: bowId,
    name,
    date,
    settings: JSON.stringify(setUp.settings),
    preferred_right_mrad: preferredMrad[0],
    preferred_up_mrad: preferredMrad[1],
    notes,
    archived: Number(setUp.archived ?? false),
  };
}

export function sessionRow(session: Session): Omit<Tables['sessions'], 'seal'> {
  const { id, archerId, bowId, setUpId, date, place, setting, wind, distanceM, face, notes } =
    session;
  return {
    id,
    archer_id: archerId,
    bow_id: bowId,
    set_up_id: setUpId,
    date,
    place,
    setting,
    wind,
    distance_m: distanceM,
    face,
    notes,
  };
}

export function endRow(end: LoggedEnd, archerId: string): Omit<Tables['ends'], 'seal'> {
  return {
    id: end.id,
    session_id: end.sessionId,
    archer_id: archerId,
    set_up_id: end.setUpId,
    shot_at: end.shotAt,
    missed_fletched: end.missed.fletched,
    missed_bare: end.missed.bare,
    photo_file: end.photo?.file ?? null,
    photo_sha256: end.photo?.sha256 ?? null,
    source_sha256: end.sourceSha256,
    set_aside: Number(end.setAside),
    notes: end.notes,
    scoring: end.scoring,
  };
}

export function arrowRows(end: LoggedEnd): Tables['arrows'][] {
  return end.arrows.map((arrow, place) => ({
    end_id: end.id,
    place,
    id: arrow.id,
    x_mm: arrow.mm[0],
    y_mm: arrow.mm[1],
    sd_mm: arrow.sdMm ?? null,
    spot: arrow.spot,
    kind: arrow.kind,
    zone: arrow.zone,
    inner: Number(arrow.inner),
    arrow_number: arrow.arrowNumber ?? null,
  }));
}

export async function deleteSetUp(tx: Tx, id: string, expected?: Expected): Promise<void> {
  const there = await setUpThere(tx, id);
  if (there === null) throw unknown('set-up', id);
  needExpected('set-up', versionOfSetUp(there), null, expected);
  await refuseInUse(tx, 'set_up_id', id, 'set-up');
  await tx.deleteFrom('set_ups').where('id', '=', id).execute();
}

export async function deleteBow(tx: Tx, id: string, expected?: Expected): Promise<void> {
  const there = await bowThere(tx, id);
  if (there === null) throw unknown('bow', id);
  needExpected('bow', versionOfBow(there), null, expected);
  await refuseInUse(tx, 'bow_id', id, 'bow');
  await tx.deleteFrom('bows').where('id', '=', id).execute();
}

/** A session lasts as long as an end of it is there. */
export async function dropIfEmpty(tx: Tx, sessionId: string): Promise<void> {
  const end = await tx
    .selectFrom('ends')
    .select('id')
    .where('session_id', '=', sessionId)
    .executeTakeFirst();
  if (end === undefined) await tx.deleteFrom('sessions').where('id', '=', sessionId).execute();
}

/** Every end is of a session, and a session names the bow and the set-up at its start. */
async function refuseInUse(
  tx: Tx,
  column: 'bow_id' | 'set_up_id',
  id: string,
  what: 'bow' | 'set-up',
): Promise<void> {
  const session = await tx
    .selectFrom('sessions')
    .select('id')
    .where(column, '=', id)
    .executeTakeFirst();
  const end =
    column === 'set_up_id'
      ? await tx.selectFrom('ends').select('id').where(column, '=', id).executeTakeFirst()
      : undefined;
  if (session === undefined && end === undefined) return;
  throw new LogError(
    'in-use',
    ENGLISH.say(
      what === 'bow'
        ? 'Something was shot with this bow: delete those ends first, or keep it.'
        : 'Something was shot with this set-up: delete those ends first, or keep it.',
    ),
  );
}

export function unknown(
  what: 'archer' | 'coach' | 'bow' | 'set-up' | 'session' | 'end',
  id: string,
): LogError {
  const message = ENGLISH.say('There is no {what} "{id}" in the log.', { what, id });
  return new LogError(`unknown-${what}`, message);
}

type Sealed = 'archers' | 'bows' | 'set_ups' | 'sessions' | 'ends';

/** Puts a row, with its seal, in the place of the one of its id. */
async function replace<Table extends Sealed>(
  tx: Tx,
  table: Table,
  row: Omit<Tables[Table], 'seal'> & { readonly id: string },
  parts: readonly object[] = [],
): Promise<void> {
  const values = sealed(row, parts);
  await tx
    .insertInto(table)
    .values(values as unknown as Insertable<Tables[Table]>)
    .onConflict((oc) => oc.column('id').doUpdateSet(values as never))
    .execute();
}

export function sealed<Row extends object>(
  row: Row,
  parts: readonly object[] = [],
): Row & { readonly seal: string } {
  return { ...row, seal: sealOf(row, parts) };
}

function refuseChange(before: SetUp, now: SetUp): void {
  const same =
    before.bowId === now.bowId &&
    equalJson(before.settings, now.settings) &&
    equalJson(before.preferredMrad, now.preferredMrad);
  if (same) return;
  throw new LogError(
    'snapshot-changed',
    ENGLISH.say('The set-up "{setUp}" was kept with other values: keep this one as a new set-up.', {
      setUp: before.name,
    }),
  );
}

/** What hangs on a bow or session would go over to somebody who did not shoot it. */
async function refuseAnotherArcher(
  tx: Tx,
  table: 'bows' | 'sessions',
  { id, archerId }: { readonly id: string; readonly archerId: string },
  what: 'bow' | 'session',
): Promise<void> {
  const before = await tx
    .selectFrom(table)
    .select('archer_id')
    .where('id', '=', id)
    .executeTakeFirst();
  if (before === undefined || before.archer_id === archerId) return;
  throw new LogError(
    'of-another-archer',
    ENGLISH.say(
      what === 'bow'
        ? 'This bow was kept for another archer: keep it as a new bow, under an id of its own.'
        : 'This session was kept for another archer: keep it as a new session, under an id of its own.',
    ),
  );
}

/** Whose it is stays unsaid: for an archer, what belongs to others is not there. */
async function needOwnBow(tx: Tx, id: string, archerId: string): Promise<void> {
  const row = await tx
    .selectFrom('bows')
    .select('archer_id')
    .where('id', '=', id)
    .executeTakeFirst();
  if (row?.archer_id !== archerId) throw unknown('bow', id);
}

async function needOwnSetUp(tx: Tx, id: string, archerId: string): Promise<void> {
  const row = await tx
    .selectFrom('set_ups')
    .innerJoin('bows', 'bows.id', 'set_ups.bow_id')
    .select('bows.archer_id')
    .where('set_ups.id', '=', id)
    .executeTakeFirst();
  if (row?.archer_id !== archerId) throw unknown('set-up', id);
}

async function needed(tx: Tx, table: 'archers', what: 'archer', id: string): Promise<void> {
  const row = await tx
    .selectFrom(table)
    .select(sql<number>`1`.as('one'))
    .where('id', '=', id)
    .executeTakeFirst();
  if (row === undefined) throw unknown(what, id);
}

async function refuseSamePhoto(tx: Tx, end: LoggedEnd, archerId: string): Promise<void> {
  if (end.sourceSha256 === null) return;
  const other = await tx
    .selectFrom('ends')
    .select('shot_at')
    .where('archer_id', '=', archerId)
    .where('source_sha256', '=', end.sourceSha256)
    .where('id', '!=', end.id)
    .executeTakeFirst();
  if (other !== undefined) throw samePhoto(other.shot_at);
}

/** @param shotAt of the end that has the photo */
export function samePhoto(shotAt: string): LogError {
  const when = shotAt.slice(0, 16).replace('T', ' ');
  return new LogError(
    'same-photo',
    ENGLISH.say(
      'This photo is kept already, with the end of {when}: correct that end, or choose another photo.',
      { when },
    ),
  );
}

/** Equal but for the order of keys. */
function equalJson(a: unknown, b: unknown): boolean {
  return JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, inner]) => [key, sorted(inner)]),
  );
}
