import { distance } from 'fastest-levenshtein';
import { READ_COLUMNS, type ManifestRow } from './manifest.ts';

/** Columns that the log and the sheets use, which every manifest may have. */
const OTHER_COLUMNS = ['archer', 'bow', 'set_up', 'date', 'session', 'end'];

/** Two slips of the finger in a long name, one in a short one. */
const slips = (name: string) => (name.length > 5 ? 2 : 1);

const letters = (name: string) => name.toLowerCase().replace(/[^a-z]/g, '');

/** 'Shaft (mm)' and 'shaft' mean shaft_mm. */
const withoutUnit = (name: string) => letters(name).replace(/(?<=shaft|distance)(mm|m)$/, '');

const isNear = (said: string, meant: string) => distance(said, meant) <= slips(meant);

/**
 * Columns that are handed through unread although somebody seems to have meant one that is read, each
 * a sentence.
 */
export function misspeltColumns(rows: readonly ManifestRow[]): string[] {
  const known = [...READ_COLUMNS, ...OTHER_COLUMNS];
  return Object.keys(rows[0]?.others ?? {}).flatMap((column) => {
    if (column === '' || known.includes(column.toLowerCase())) return [];
    const meant = READ_COLUMNS.find(
      (one) =>
        isNear(letters(column), letters(one)) || isNear(withoutUnit(column), withoutUnit(one)),
    );
    return meant === undefined
      ? []
      : [`The column "${column.slice(0, 40)}" is not read: is "${meant}" meant?`];
  });
}
