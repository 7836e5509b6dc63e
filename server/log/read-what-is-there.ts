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

/** What of a log can be read, and what cannot, each a sentence. */
export interface WhatIsThere {
  readonly whole: WholeLog<LoggedEnd>;
  /** Sound ends, sessions and so on that hang on something that is not there. */
  readonly unplaced: WholeLog<LoggedEnd>;
  readonly missing: readonly string[];
}

/** All rows of a table in an order, or what of them can be read. */
export type RowSource = <Table extends keyof Tables>(
  table: Table,
  order: readonly (keyof Tables[Table] & string)[],
) => Promise<{ rows: Row<Table>[]; isWhole: boolean }>;

/** Reads row by row, so that a damaged one, or a damaged part of the file, costs itself alone. */
export async function readWhatIsThere(source: RowSource): Promise<WhatIsThere> {
  const missing: string[] = [];
  const rows: <Table extends keyof Tables>(
    ...asked: Parameters<typeof source<Table>>
  ) => Promise<Row<Table>[]> = async (table, order) => {
    const { rows: found, isWhole } = await source(table, order);
    if (!isWhole) {
      missing.push(`The log is damaged in its table of ${table.replace('_', '-')}: ${found.length} rows of it could be read.`); // prettier-ignore
    }
    return found;
  };
  const kept = async <Table extends keyof Tables, T>(
    table: Table,
    order: readonly (keyof Tables[Table] & string)[],
    of: (row: Row<Table>) => T,
  ): Promise<T[]> => {
    const read: T[] = [];
    for (const row of await rows(table, order)) {
      try {
        read.push(of(row));
      } catch (error) {
        if (!(error instanceof LogError)) throw error;
        missing.push(`${error.message.split(':', 1)[0]}.`);
      }
    }
    return read;
  };
  const arrows = arrowsByEnd(await rows('arrows', ['end_id', 'place']));
  return placed(
    {
      archers: await kept('archers', ['id'], archerOf),
      bows: await kept('bows', ['id'], bowOf),
      setUps: await kept('set_ups', ['date', 'id'], setUpOf),
      sessions: await kept('sessions', ['date', 'id'], sessionOf),
      ends: await kept('ends', ['shot_at', 'id'], (row): LoggedEnd =>
        endOf(row, arrows.get(row.id) ?? []),
      ),
    },
    missing,
  );
}

/** Parts what hangs together, which can be imported again, from what lost what it hangs on. */
function placed(all: WholeLog<LoggedEnd>, missing: string[]): WhatIsThere {
  const split = <T extends { readonly id: string }>(
    things: readonly T[],
    isPlaced: (thing: T) => boolean,
    what: string,
  ): [placed: T[], unplaced: T[]] => {
    const unplaced = things.filter((thing) => !isPlaced(thing));
    for (const { id } of unplaced) {
      missing.push(`What the ${what} "${id}" belongs to is missing: it is kept unplaced.`);
    }
    return [things.filter(isPlaced), unplaced];
  };
  const ids = (things: readonly { readonly id: string }[]) => new Set(things.map(({ id }) => id));
  const archers = ids(all.archers);
  const [bows, bowsLeft] = split(all.bows, (bow) => archers.has(bow.archerId), 'bow');
  const bowIds = ids(bows);
  const [setUps, setUpsLeft] = split(all.setUps, (one) => bowIds.has(one.bowId), 'set-up');
  const [sessions, left] = split(all.sessions, (one) => archers.has(one.archerId), 'session');
  const sessionIds = ids(sessions);
  const [ends, endsLeft] = split(all.ends, (end) => sessionIds.has(end.sessionId), 'end');
  return {
    whole: { archers: all.archers, bows, setUps, sessions, ends },
    unplaced: { archers: [], bows: bowsLeft, setUps: setUpsLeft, sessions: left, ends: endsLeft },
    missing,
  };
}
