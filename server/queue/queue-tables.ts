import type { ColumnType, Generated } from 'kysely';
import type { Outcome } from '../reading/read-job.ts';
import type { PhotoOfJob, ReadingJob } from '../reading/reading-job.ts';

/** Of our own tables; pg-boss has one of its own. */
export const SCHEMA = 'endwise_readings';
export const BOSS_SCHEMA = 'endwise_queue';
/** The layout of pg-boss's tables that our pg-boss makes: it would work on newer ones as if it knew them. */
export const BOSS_LAYOUT = 24;
/** The queue's name in pg-boss. */
export const QUEUE = 'readings';
/** Where the database tells of each change of a job's state: 'STATE ID', or 'gone ID'. */
export const CHANNEL = 'endwise_readings';

/**
 * waiting: in the queue. reading: a worker has it. read: there is an outcome. aside: it brought its
 * workers down; its outcome says so, and its photos stay.
 */
export type State = 'waiting' | 'reading' | 'read' | 'aside';

/** What of a job is no photo. */
export type JobWords = Pick<ReadingJob, 'request' | 'sizes'>;

type Json<T> = ColumnType<T, string, string>;

export interface QueueTables {
  /** One row per photo handed in, until its result goes. The same id is the job's in pg-boss. */
  reading: {
    id: string;
    submitted_at: Generated<Date>;
    priority: number;
    state: State;
    device_id: string | null;
    archer_id: string | null;
    /** Whose end it is, where that is known. */
    of_archer: string | null;
    /** The submitter's own name for it. */
    key: string | null;
    photos_sha256: string;
    words: Json<JobWords>;
    about: Json<Record<string, unknown>>;
    /** Workers that died while they had it. */
    deaths: Generated<number>;
    /** Of this taking alone: who comes back late does not write over another's result. */
    taken: string | null;
    /** By the database's clock; whose lease has run out is taken for dead. */
    lease_until: Date | null;
    outcome: Json<Outcome> | null;
    read_at: Date | null;
    goes_at: Generated<Date>;
  };
  /** Photos in pieces, so that none is ever held whole in memory but by who reads it. */
  photo_part: { reading_id: string; photo: PhotoOfJob; place: number; bytes: Uint8Array };
  /** How many steps of the layout were made. */
  layout: { version: number };
}
