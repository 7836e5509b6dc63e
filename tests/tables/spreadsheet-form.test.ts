import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/browser/esm/sync';
import { expect, test } from 'vitest';
import { SPREADSHEET_FORM } from '../../src/tables/spreadsheet-form.ts';

test('rows end as RFC 4180 (2.1) has them, after a byte-order mark and a header', () => {
  const csv = stringify([{ name: 'one', notes: 'two\nlines, "quoted"' }], SPREADSHEET_FORM);
  expect(csv).toBe('\ufeffname,notes\r\none,"two\nlines, ""quoted"""\r\n');
});

// What a spreadsheet takes for a formula, by the list of OWASP's page on CSV injection.
test.each(['=1+2', '+1', '-1+2', '@SUM(A1)', '\tx', '\rx'])('%j stays text', (cell) => {
  const [row] = parse<{ cell: string }>(stringify([{ cell }], SPREADSHEET_FORM), {
    columns: true,
    bom: true,
  });
  expect(row!.cell).toBe(`'${cell}`);
});

test('numbers stay numbers, negative ones too', () => {
  expect(stringify([{ up: -3.5 }], SPREADSHEET_FORM)).toBe('\ufeffup\r\n-3.5\r\n');
});
