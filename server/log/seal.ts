import { hash } from 'node:crypto';

const SEAL_LETTERS = 16;

/** Names of columns as a seal has them, by those of a row: rows come by thousands and in few shapes. */
const inOrder = new Map<string, readonly string[]>();

/**
 * What a row's seal must be: SQLite finds damage in its own structure, but none within a value. A row
 * whose values changed on the disk no longer fits its seal.
 * @param row columns by name, the seal itself aside
 * @param parts rows that belong to it, in order
 */
export function sealOf(row: object, parts: readonly object[] = []): string {
  const text = JSON.stringify([row, ...parts].map(valuesOf));
  return hash('sha256', text, 'hex').slice(0, SEAL_LETTERS);
}

function valuesOf(row: object): unknown[] {
  return columnsOf(row).map((name) => [name, (row as Record<string, unknown>)[name]]);
}

function columnsOf(row: object): readonly string[] {
  const there = Object.keys(row);
  const shape = there.join();
  const known = inOrder.get(shape);
  if (known !== undefined) return known;
  const columns = there.filter((name) => name !== 'seal').sort();
  inOrder.set(shape, columns);
  return columns;
}
