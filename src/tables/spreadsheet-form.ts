/**
 * How tables are written for spreadsheets: cells that one would take for a formula as text; CRLF and a
 * byte-order mark, because the commonest of them takes UTF-8 for something else without.
 */
export const SPREADSHEET_FORM = {
  header: true,
  bom: true,
  record_delimiter: 'windows',
  escape_formulas: true,
} as const;
