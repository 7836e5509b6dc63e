import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { parse } from 'csv-parse';
import type { ZodError } from 'zod';
import { readingRequestSchema, type ReadingRequest } from '../../src/request/request.ts';
import { arrowNumbers } from '../reading/arrow-numbers.ts';
import { markNumbers } from '../reading/mark-numbers.ts';
import { issueSentence } from '../reading/issue-sentence.ts';

/** Rows beyond this are a mistake, not a coach's evening. */
export const MAX_ROWS = 100_000;

const MAX_RECORD_BYTES = 64 * 1024;

/** One photo to read, as the manifest's row says. */
export interface ManifestRow {
  /** As written in the manifest: what the result carries. */
  readonly photo: string;
  readonly photoPath: string;
  /** Photo of the same face before this end, as written, and where it lies. */
  readonly before: string | null;
  readonly beforePath: string | null;
  /** Second photo of the same end, as written, and where it lies. */
  readonly also: string | null;
  readonly alsoPath: string | null;
  /** Photo that may show the same face before this end: used where that helps. */
  readonly earlier: string | null;
  readonly earlierPath: string | null;
  /** Null where a cell makes no sense; `problem` says which. */
  readonly request: ReadingRequest | null;
  readonly problem: string | null;
  /** Every column that the reading does not use, by its name. */
  readonly others: Readonly<Record<string, string>>;
}

/** Thrown for a manifest that cannot be used at all; a bad row is no reason. */
export class ManifestError extends Error {
  override readonly name = 'ManifestError';
}

/** Columns that a reading uses. */
export const READ_COLUMNS: readonly string[] = [
  'photo',
  'before',
  'also',
  'face',
  'shaft_mm',
  'fletched',
  'bare',
  'bare_at',
  'arrow_numbers',
  'scoring',
  'hand',
  'distance_m',
];

/**
 * Reads a manifest: CSV with a header row, separated by commas or semicolons.
 * @param path of the file; photos are relative to its folder
 * @throws ManifestError
 */
export async function readManifest(path: string): Promise<ManifestRow[]> {
  const folder = dirname(resolve(path));
  const rows: ManifestRow[] = [];
  let columns: string[] | undefined;
  const delimiter = await delimiterOf(path).catch((error: unknown) => {
    throw manifestError(error, path);
  });
  const parser = parse({
    bom: true,
    delimiter,
    relax_column_count: true,
    skip_empty_lines: true,
    trim: true,
    max_record_size: MAX_RECORD_BYTES,
  });
  const input = createReadStream(path);
  input.on('error', (error) => parser.destroy(error));
  input.pipe(parser);
  try {
    for await (const record of parser as AsyncIterable<string[]>) {
      if (columns === undefined) {
        columns = headerOf(record);
        continue;
      }
      if (rows.length === MAX_ROWS) {
        throw new ManifestError(`The manifest has more than ${MAX_ROWS} rows: split it.`);
      }
      rows.push(rowOf(columns, record, folder));
    }
  } catch (error) {
    throw manifestError(error, path);
  } finally {
    input.destroy();
  }
  if (columns === undefined) {
    throw new ManifestError('The manifest is empty: its first row names the columns.');
  }
  return rows;
}

/** Spreadsheets set to decimal commas separate cells by semicolons. */
async function delimiterOf(path: string): Promise<string> {
  const file = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(MAX_RECORD_BYTES));
    const header = buffer.toString('utf8', 0, bytesRead).split(/[\r\n]/, 1)[0]!;
    return header.includes(';') && !header.includes(',') ? ';' : ',';
  } finally {
    await file.close();
  }
}

function headerOf(record: string[]): string[] {
  const columns = record.map((name) => name.toLowerCase());
  if (!columns.includes('photo')) {
    throw new ManifestError(
      `The manifest has no column "photo" in its first row, which reads: ${record.join(', ').slice(0, 200)}.`,
    );
  }
  const twice = columns.find((name, index) => name !== '' && columns.indexOf(name) !== index);
  if (twice !== undefined) throw new ManifestError(`The manifest has two columns "${twice}".`);
  // Known columns in any case; the rest keep the case in which they were written.
  return record.map((name, index) =>
    READ_COLUMNS.includes(columns[index]!) ? columns[index]! : name,
  );
}

function rowOf(columns: string[], record: string[], folder: string): ManifestRow {
  const cells = new Map(columns.map((name, index) => [name, record[index] ?? '']));
  const filled = (name: string) => cells.get(name) || undefined;
  const number = (name: string) => {
    const text = filled(name);
    return text === undefined ? undefined : Number(text.replace(',', '.'));
  };
  const photo = filled('photo') ?? '';
  const before = filled('before');
  const also = filled('also');
  const bareAt = filled('bare_at');
  const numbers = filled('arrow_numbers');
  const parsed = readingRequestSchema.safeParse({
    face: filled('face'),
    shaftMm: number('shaft_mm'),
    fletched: number('fletched'),
    bare: number('bare'),
    hand: filled('hand'),
    distanceM: number('distance_m'),
    bareAt: bareAt === undefined ? undefined : markNumbers(bareAt),
    arrowNumbers: numbers === undefined ? undefined : arrowNumbers(numbers),
    scoring: filled('scoring'),
  });
  const tooMany = record.length > columns.length;
  let problem: string | null = null;
  if (photo === '') problem = 'The row names no photo.';
  else if (tooMany) problem = 'The row has more cells than there are columns.';
  else if (!parsed.success) problem = cellProblem(parsed.error, cells);
  return {
    photo,
    photoPath: resolve(folder, photo),
    before: before ?? null,
    beforePath: before === undefined ? null : resolve(folder, before),
    also: also ?? null,
    alsoPath: also === undefined ? null : resolve(folder, also),
    earlier: null,
    earlierPath: null,
    request: problem === null && parsed.success ? parsed.data : null,
    problem,
    others: Object.fromEntries([...cells].filter(([name]) => !READ_COLUMNS.includes(name))),
  };
}

const COLUMN_OF: Record<string, string> = {
  shaftMm: 'shaft_mm',
  distanceM: 'distance_m',
  bareAt: 'bare_at',
  arrowNumbers: 'arrow_numbers',
};

function cellProblem(error: ZodError, cells: ReadonlyMap<string, string>): string {
  return issueSentence(error, (path, name) => {
    const column = COLUMN_OF[name] ?? path;
    return `Column ${column} says "${cells.get(column)?.slice(0, 40)}"`;
  });
}

function manifestError(error: unknown, path: string): ManifestError {
  if (error instanceof ManifestError) return error;
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'ENOENT') return new ManifestError(`The manifest ${path} does not exist.`);
  if (code === 'EISDIR') return new ManifestError(`The manifest ${path} is a folder.`);
  if (code === 'EACCES') return new ManifestError(`The manifest ${path} may not be opened.`);
  return new ManifestError(`The manifest ${path} is not a CSV file: ${message}`);
}
