import { hash } from 'node:crypto';

const SEAL_LETTERS = 16;

/** The columns of a row as a seal has them, in order. */
interface Shape {
  /** Names of the row in its own order. */
  readonly own: readonly string[];
  readonly columns: readonly { readonly name: string; readonly written: string }[];
}

/** Rows come by thousands and in few shapes, one after another in the same. */
const shapes = new Map<string, Shape>();
let last: Shape = { own: [], columns: [] };

/**
 * What a row's seal must be: SQLite finds damage in its own structure, but none within a value. A row
 * whose values changed on the disk no longer fits its seal.
 * @param row columns by name, the seal itself aside
 * @param parts rows that belong to it, in order
 */
export function sealOf(row: object, parts: readonly object[] = []): string {
  let text = `[${written(row)}`;
  for (const part of parts) text += `,${written(part)}`;
  return hash('sha256', `${text}]`, 'hex').slice(0, SEAL_LETTERS);
}

/** JSON of the names and values of a row. */
function written(row: object): string {
  let text = '[';
  for (const column of shapeOf(row).columns) {
    const value = (row as Record<string, unknown>)[column.name];
    // As JSON has what is undefined, or no number, in a list.
    const json = Number.isFinite(value) ? String(value) : (JSON.stringify(value) ?? 'null');
    text += text === '[' ? '[' : ',[';
    text += `${column.written},${json}]`;
  }
  return `${text}]`;
}

function shapeOf(row: object): Shape {
  const own = Object.keys(row);
  if (own.length === last.own.length && own.every((name, i) => name === last.own[i])) return last;
  const key = own.join();
  const known = shapes.get(key);
  if (known !== undefined) return (last = known);
  const columns = own
    .filter((name) => name !== 'seal')
    .sort()
    .map((name) => ({ name, written: JSON.stringify(name) }));
  last = { own, columns };
  shapes.set(key, last);
  return last;
}
