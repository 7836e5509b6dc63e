import type { Failure } from './explain-failure.ts';
import type { Outcome } from './read-job.ts';
import type { ReadingJob } from './reading-job.ts';
import { WORKER_DIED } from './reading-pool.ts';

/** Who hands a photo in. */
export interface Submitter {
  /** Null is the machine itself. */
  readonly deviceId: string | null;
  /** Whose part of the log the submitter sees; null is everything. */
  readonly archerId: string | null;
}

/** How soon a photo is wanted, as RFC 9218 counts it: 0 is first, 7 last. */
export const URGENCY = {
  /** Somebody waits for it. */
  asked: 3,
  /** A batch. */
  background: 6,
  last: 7,
} as const;

export interface Submission {
  /** Photos by path need to stay where they are until `photosTaken` is called. */
  readonly job: ReadingJob;
  readonly by: Submitter;
  readonly urgency: number;
  /** The submitter's own name for it: handed in again under the same one, it is not read twice. */
  readonly key?: string | undefined;
  /** Handed back with the reading: plain data. */
  readonly about?: Readonly<Record<string, unknown>> | undefined;
  /** Whose end it is, where that is known: deleted with them. */
  readonly ofArcher?: string | undefined;
  /** The files of the photos are needed no longer. */
  readonly photosTaken?: () => Promise<void>;
}

export interface Found {
  readonly id: string;
  readonly by: Submitter;
  /** Whose end it is; null where that is not known. */
  readonly ofArcher: string | null;
  readonly about: Readonly<Record<string, unknown>>;
  readonly standing:
    | { readonly state: 'waiting'; readonly ahead: number }
    | { readonly state: 'reading' }
    | { readonly state: 'read'; readonly outcome: Outcome };
}

export interface FollowOptions {
  /** Ends the waiting, not the reading. */
  readonly signal?: AbortSignal;
  /** Called with the number of jobs ahead whenever that changes; 0 when the reading begins. */
  readonly onAhead?: (ahead: number) => void;
}

/** How things stand with all readings. */
export interface Figures {
  readonly waiting: number;
  readonly reading: number;
  /** Jobs that brought down whoever read them, kept for a person to look at. */
  readonly setAside: number;
  /** Read, and not yet gone. */
  readonly kept: number;
  /** Of the job that waits longest, s; 0 where none waits. */
  readonly oldestSeconds: number;
}

/**
 * Where photos are handed in to be read, and their readings fetched: processes of this machine, or a
 * queue in a database that workers on any machine take from. A job that brings down the process that
 * reads it is given to another; the second time it is set aside with a sentence.
 */
export interface Readings {
  /** Photos that this process itself is reading, and followers that it owes an answer beyond those. */
  readonly here: { readonly busy: number; readonly waiting: number };
  /** For how long a result is kept that nobody fetches, hours. */
  readonly keptHours: number;
  /**
   * Resolves to the job's id when it is taken in: then it will be read. Where its `key` was used
   * before, that job's id.
   * @throws PoolFullError, KeyUsedError
   */
  submit(submission: Submission): Promise<string>;
  /** Null where there is no such job, or none any more. */
  find(id: string): Promise<Found | null>;
  /** Resolves when it is read; null where the job is gone. Rejects with the signal's reason. */
  follow(id: string, options?: FollowOptions): Promise<Found | null>;
  /** Its result was handed over: it stays for an hour, as what was sent may not have arrived. */
  fetched(id: string): Promise<void>;
  /** Takes it out of the queue, or ends its reading; what is kept of it goes. */
  drop(id: string): Promise<boolean>;
  /** The same for everything of an archer. @returns how many */
  dropOf(archerId: string): Promise<number>;
  figures(): Promise<Figures>;
  /** @throws where photos cannot be taken in now */
  check(): Promise<void>;
  close(): Promise<void>;
}

/** Thrown where a key was used for other photos. */
export class KeyUsedError extends Error {
  override readonly name = 'KeyUsedError';
  readonly code = 'key-used';

  constructor() {
    super('This key was used for other photos: choose a new one for each upload.');
  }
}

/** A job may bring down so many of those that read it. */
export const MOST_DEATHS = 2;

/** Why there is no reading then. */
export const SET_ASIDE: Failure = {
  code: WORKER_DIED,
  message:
    'Reading this photo brought its worker down twice, so it was set aside; ' +
    'the others went on without it.',
};

/** A result that was fetched stays for so long, s. */
export const FETCHED_SECONDS = 3600;
