import type { Kysely, Selectable } from 'kysely';
import type { z } from 'zod';
import {
  archerSchema,
  endSchema,
  sessionSchema,
  type Archer,
  type End,
  type Session,
} from '../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema, type Bow, type SetUp } from '../../src/tuning/bow/set-up.ts';
import { damagedLog } from './explain-storage.ts';
import type { LogError } from './log-error.ts';
import { sealOf } from './seal.ts';
import type { Tables } from './tables.ts';

/** An end with the hash of its photo as it was sent. */
export interface LoggedEnd extends End {
  readonly sourceSha256: string | null;
}

export type Row<Table extends keyof Tables> = Selectable<Tables[Table]>;

/** @throws LogError where the row was damaged, as all of these do */
export function archerOf(row: Row<'archers'>): Archer {
  return sound('archer', row, [], () => checked(archerSchema, row));
}

export function bowOf(row: Row<'bows'>): Bow {
  return sound('bow', row, [], () => {
    const { archer_id, adjusters, archived, ...rest } = row;
    return checked(bowSchema, {
      ...rest,
      ...asArchived(archived),
      archerId: archer_id,
      adjusters: JSON.parse(adjusters) as unknown,
    });
  });
}

export function setUpOf(row: Row<'set_ups'>): SetUp {
  return sound('set-up', row, [], () => {
    const { bow_id, settings, preferred_right_mrad, preferred_up_mrad, archived, ...rest } = row;
    return checked(setUpSchema, {
      ...rest,
      ...asArchived(archived),
      bowId: bow_id,
      settings: JSON.parse(settings) as unknown,
      preferredMrad: [preferred_right_mrad, preferred_up_mrad],
    });
  });
}

/** A log that is only rescued may be from before anything could be archived. */
function asArchived(archived: number | undefined): { archived?: true } {
  return archived === 1 ? { archived: true } : {};
}

export function sessionOf(row: Row<'sessions'>): Session {
  return sound('session', row, [], () => {
    const { archer_id, bow_id, set_up_id, distance_m, ...rest } = row;
    return checked(sessionSchema, {
      ...rest,
      archerId: archer_id,
      bowId: bow_id,
      setUpId: set_up_id,
      distanceM: distance_m,
    });
  });
}

/** @param arrows of this end, in order */
export function endOf(row: Row<'ends'>, arrows: readonly Row<'arrows'>[]): LoggedEnd {
  return sound('end', row, arrows, () => ({
    ...checked(endSchema, {
      id: row.id,
      sessionId: row.session_id,
      setUpId: row.set_up_id,
      shotAt: row.shot_at,
      arrows: arrows.map((arrow) => ({
        id: arrow.id,
        mm: [arrow.x_mm, arrow.y_mm],
        ...(arrow.sd_mm === null ? {} : { sdMm: arrow.sd_mm }),
        spot: arrow.spot,
        kind: arrow.kind,
        zone: arrow.zone,
        inner: arrow.inner === 1,
        ...(arrow.arrow_number === null ? {} : { arrowNumber: arrow.arrow_number }),
      })),
      scoring: row.scoring,
      missed: { fletched: row.missed_fletched, bare: row.missed_bare },
      photo: placeOf(row),
      setAside: row.set_aside === 1,
      notes: row.notes,
    }),
    sourceSha256: row.source_sha256,
  }));
}

export function placeOf(
  row: Pick<Tables['ends'], 'photo_file' | 'photo_sha256'> | undefined,
): End['photo'] {
  if (!row || row.photo_file === null || row.photo_sha256 === null) return null;
  return { file: row.photo_file, sha256: row.photo_sha256 };
}

/** Ends with their arrows, oldest first; of one archer, one of them, or all. */
export async function endsOf(
  db: Kysely<Tables>,
  { archerId, id }: { readonly archerId?: string | undefined; readonly id?: string } = {},
): Promise<LoggedEnd[]> {
  let ends = db.selectFrom('ends').selectAll().orderBy('shot_at').orderBy('id');
  let arrows = db
    .selectFrom('arrows')
    .innerJoin('ends', 'ends.id', 'arrows.end_id')
    .selectAll('arrows')
    .orderBy('arrows.place');
  if (archerId !== undefined) {
    ends = ends.where('archer_id', '=', archerId);
    arrows = arrows.where('ends.archer_id', '=', archerId);
  }
  if (id !== undefined) {
    ends = ends.where('id', '=', id);
    arrows = arrows.where('ends.id', '=', id);
  }
  const byEnd = arrowsByEnd(await arrows.execute());
  return (await ends.execute()).map((row) => endOf(row, byEnd.get(row.id) ?? []));
}

export function arrowsByEnd(arrows: Iterable<Row<'arrows'>>): Map<string, Row<'arrows'>[]> {
  const byEnd = new Map<string, Row<'arrows'>[]>();
  for (const arrow of arrows) {
    const own = byEnd.get(arrow.end_id);
    if (own) own.push(arrow);
    else byEnd.set(arrow.end_id, [arrow]);
  }
  return byEnd;
}

function sound<T>(
  what: string,
  row: { readonly id: string; readonly seal: string },
  parts: readonly object[],
  read: () => T,
): T {
  // A log from before there were seals can still be rescued.
  const sealed = 'seal' in row;
  if (sealed && row.seal !== sealOf(row, parts)) throw damagedRow(what, row.id);
  try {
    return read();
  } catch (error) {
    throw damagedRow(what, row.id, error);
  }
}

function checked<Schema extends z.ZodType>(schema: Schema, value: unknown): z.output<Schema> {
  return schema.parse(value);
}

function damagedRow(what: string, id: string, cause?: unknown): LogError {
  return damagedLog(cause, `The log is damaged where it keeps the ${what} "${id.slice(0, 80)}"`);
}
