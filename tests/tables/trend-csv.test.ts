import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { comparisonCsv, spreadCsv, timelineCsv, walkBackCsv } from '../../src/tables/trend-csv.ts';

/** As RFC 4180 has it, read by another implementation than the one that is used to write. */
function rows(csv: string): Record<string, string>[] {
  return parse(csv, { columns: true, bom: true });
}

test('names come back as they were given, and none is a formula to a spreadsheet', () => {
  const name = '=HYPERLINK("x"), "medium", 2 turns\nin';
  const csv = timelineCsv(
    {
      points: [
        {
          sessionId: 's',
          at: '2031-04-01T10:00:00.000Z',
          distanceM: 30,
          arrows: 36,
          misses: 1,
          average: 8.123456,
          spread: null,
          offset: null,
          setUpIds: ['a', 'b'],
        },
      ],
    } as unknown as Parameters<typeof timelineCsv>[0],
    { a: name },
  );
  expect(csv.startsWith('\ufeff')).toBe(true);
  const [row] = rows(csv);
  expect(row).toMatchObject({ distance_m: '30', average: '8.1235', spread_mrad: '' });
  expect(row!.set_ups).toBe(`'${name}, b`);
});

test('a table of nothing has no rows, and one without a slope leaves it open', () => {
  expect(rows(spreadCsv([]))).toEqual([]);
  const points = [
    { distanceM: 18, arrows: 30, sigmaMm: 21.5, interval90Mm: [18, 26] },
    { distanceM: 30, arrows: 36, sigmaMm: 36.00004, interval90Mm: [31, 43] },
  ];
  const trend = { points, slope: null } as unknown as Parameters<
    typeof spreadCsv
  >[0][number]['trend'];
  expect(rows(spreadCsv([{ name: 'winter', trend }]))).toMatchObject([
    { set_up: 'winter', distance_m: '18', spread_mm: '21.5', slope: '' },
    { set_up: 'winter', distance_m: '30', spread_mm: '36', spread_high90_mm: '43' },
  ]);
});

test('what two set-ups do not have in common is said, not left to be taken for nought', () => {
  const side = { arrows: 30, misses: 0 };
  const comparison = {
    first: side,
    second: side,
    pairedSessions: 0,
    byValue: null,
    bySpread: null,
  } as unknown as Parameters<typeof comparisonCsv>[0];
  const table = rows(comparisonCsv(comparison, { first: 'old', second: 'new' }));
  expect(table.map(({ verdict, effect }) => [verdict, effect])).toEqual([
    ['nothing in common', ''],
    ['nothing in common', ''],
  ]);
});

test('a walk back has a row for each distance, its drift in all of them', () => {
  const table = rows(
    walkBackCsv({
      points: [
        { distanceM: 10, arrows: 6, mm: [1.5, -2], seMm: 3 },
        { distanceM: 30, arrows: 6, mm: [-9, 4], seMm: 6 },
      ],
      drift: { mrad: -0.5, interval90: [-0.8, -0.2] },
    } as unknown as Parameters<typeof walkBackCsv>[0]),
  );
  expect(
    table.map(({ distance_m, right_mm, drift_mm_per_m }) => [distance_m, right_mm, drift_mm_per_m]),
  ).toEqual([
    ['10', '1.5', '-0.5'],
    ['30', '-9', '-0.5'],
  ]);
});
