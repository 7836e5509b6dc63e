import { createHash } from 'node:crypto';

const SEAL_LETTERS = 16;

/**
 * What a row's seal must be: SQLite finds damage in its own structure, but none within a value. A row
 * whose values changed on the disk no longer fits its seal.
 * @param row columns by name, the seal itself aside
 * @param parts rows that belong to it, in order
 */
export function sealOf(row: object, parts: readonly object[] = []): string {
  const text = JSON.stringify([row, ...parts].map(valuesOf));
  return createHash('sha256').update(text).digest('hex').slice(0, SEAL_LETTERS);
}

function valuesOf(row: object): unknown[] {
  return Object.entries(row)
    .filter(([name]) => name !== 'seal')
    .sort(([a], [b]) => (a < b ? -1 : 1));
}
