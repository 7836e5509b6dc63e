import type { WholeLog } from '../../src/tuning/record/bow-log.ts';
import {
  archerOf,
  arrowsByEnd,
  bowOf,
  endOf,
  sessionOf,
  setUpOf,
  type LoggedEnd,
  type Row,
} from './from-rows.ts';
import { LogError } from './log-error.ts';
import type { Tables } from './tables.ts';

type Whole = WholeLog<LoggedEnd>;
export type RecordKind = keyof Whole;
export type RecordOf<Kind extends RecordKind> = Whole[Kind][number];

export type LogRecord = {
  readonly [Kind in RecordKind]: {
    readonly kind: Kind;
    readonly record: RecordOf<Kind>;
    /** False of what is sound, but hangs on something that is not there. */
    readonly isPlaced: boolean;
  };
}[RecordKind];

/** Takes the records of a log as they come: archers, bows, set-ups, sessions, ends. */
export interface RecordVisitor {
  record(one: LogRecord): void | Promise<void>;
  /** What cannot be read, a sentence. */
  missing(sentence: string): void;
}

type Table = 'archers' | 'bows' | 'set_ups' | 'sessions' | 'ends';

export interface ReadRows<T extends keyof Tables> {
  readonly rows: readonly Row<T>[];
  /** False where more was there that cannot be read. */
  readonly isWhole: boolean;
}

/** The rows of a log, some at a time. */
export interface RowSource {
  pages<T extends Table>(table: T): AsyncIterable<ReadRows<T>>;
  /** Arrows of some ends, in their order within each. */
  arrows(ends: readonly string[]): Promise<ReadRows<'arrows'>>;
}

/** Rows that are held at a time. */
export const ROWS_OF_PAGE = 500;

/** Reads row by row, so that a damaged one, or a damaged part of the file, costs itself alone. */
export async function readRecords(source: RowSource, visitor: RecordVisitor): Promise<void> {
  const damaged = new Set<string>();
  const noticed = (table: keyof Tables, found: number) => {
    if (damaged.has(table)) return;
    damaged.add(table);
    visitor.missing(`The log is damaged in its table of ${table.replace('_', '-')}: ${found} rows of it could be read.`); // prettier-ignore
  };
  const read = async <T extends Table, Kind extends RecordKind>(
    table: T,
    kind: Kind,
    of: (row: Row<T>) => RecordOf<Kind>,
    { what, isPlaced: isPlacedRecord, ready }: Reading<T, RecordOf<Kind>>,
  ) => {
    let found = 0;
    for await (const { rows, isWhole } of source.pages(table)) {
      found += rows.length;
      if (!isWhole) noticed(table, found);
      await ready?.(rows);
      for (const row of rows) {
        let record: RecordOf<Kind>;
        try {
          record = of(row);
        } catch (error) {
          if (!(error instanceof LogError)) throw error;
          visitor.missing(`${error.message.split(':', 1)[0]}.`);
          continue;
        }
        const isPlaced = isPlacedRecord(record);
        if (!isPlaced) {
          visitor.missing(`What the ${what} "${record.id}" belongs to is missing: it is kept unplaced.`); // prettier-ignore
        }
        await visitor.record({ kind, record, isPlaced } as LogRecord);
      }
    }
  };

  const archers = new Set<string>();
  const bows = new Set<string>();
  const sessions = new Set<string>();
  const noted = (ids: Set<string>, id: string, isPlaced: boolean) => {
    if (isPlaced) ids.add(id);
    return isPlaced;
  };
  await read('archers', 'archers', archerOf, {
    what: 'archer',
    isPlaced: ({ id }) => noted(archers, id, true),
  });
  await read('bows', 'bows', bowOf, {
    what: 'bow',
    isPlaced: ({ id, archerId }) => noted(bows, id, archers.has(archerId)),
  });
  await read('set_ups', 'setUps', setUpOf, {
    what: 'set-up',
    isPlaced: ({ bowId }) => bows.has(bowId),
  });
  await read('sessions', 'sessions', sessionOf, {
    what: 'session',
    isPlaced: ({ id, archerId }) => noted(sessions, id, archers.has(archerId)),
  });
  let arrows = new Map<string, Row<'arrows'>[]>();
  await read('ends', 'ends', (row) => endOf(row, arrows.get(row.id) ?? []), {
    what: 'end',
    isPlaced: ({ sessionId }) => sessions.has(sessionId),
    ready: async (ends) => {
      const { rows, isWhole } = await source.arrows(ends.map(({ id }) => id));
      if (!isWhole) noticed('arrows', rows.length);
      arrows = arrowsByEnd(rows);
    },
  });
}

interface Reading<T extends Table, Record> {
  readonly what: string;
  readonly isPlaced: (record: Record) => boolean;
  /** Awaited before the rows of a page are read. */
  readonly ready?: (rows: readonly Row<T>[]) => Promise<void>;
}
