import { readFile, stat } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import { z } from 'zod';

const MAX_BYTES = 16 * 1024 * 1024;

const rowsSchema = z.array(
  z.object({
    photo: z.string(),
    archer: z.string().max(200).optional(),
    bow: z.string().max(200).optional(),
  }),
);

/**
 * Who shot what, as a person wrote it into a table: results.csv with other names in it will do.
 * @returns by photo, only what the table says
 */
export async function readNames(
  path: string,
): Promise<Map<string, { archer?: string; bow?: string }>> {
  let text: string;
  try {
    if ((await stat(path)).size > MAX_BYTES) throw new Error('larger than 16 MB');
    text = await readFile(path, 'utf8');
  } catch (error) {
    throw new Error(`The table ${path} cannot be read: ${(error as Error).message}.`, {
      cause: error,
    });
  }
  let rows;
  try {
    const parsed: unknown = parse(text, {
      bom: true,
      columns: (header: string[]) => header.map((name) => name.trim().toLowerCase()),
      delimiter: [',', ';'],
      relax_column_count: true,
      skip_empty_lines: true,
    });
    rows = rowsSchema.parse(parsed);
  } catch (error) {
    throw new Error(`The table ${path} needs the columns photo, archer and bow.`, { cause: error });
  }
  return new Map(
    rows.map(({ photo, archer, bow }) => [
      plain(photo),
      {
        ...(archer === undefined ? {} : { archer: plain(archer) }),
        ...(bow === undefined ? {} : { bow: plain(bow) }),
      },
    ]),
  );
}

/** A cell as it was before it was kept from being a formula. */
function plain(cell: string): string {
  return cell.replace(/^'(?=[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20])/, '').trim();
}
