import { describe, expect, expectTypeOf, test } from 'vitest';
import type { z } from 'zod';
import * as endwise from '../src/index.ts';
import type {
  ArcherRecord,
  End,
  FaceFit,
  Groups,
  Hand,
  Mark,
  PhotoPx,
  Raster,
  Reading,
  ReadingRequest,
  ReadingResult,
  ScoredMark,
  Session,
  SetUp,
  SheetMm,
  SpotMm,
  Tuning,
} from '../src/index.ts';
import type { ExifHints } from '../server/decode/exif-hints.ts';

/** Every value that others may import. A name that is missing here has become public by accident. */
const PUBLIC = [
  'ENGLISH',
  'FACES',
  'FACE_IDS',
  'InputError',
  'METRIC',
  'ReadingError',
  'SHAFT_MM',
  'aboveFace',
  'archerRecordSchema',
  'archerSchema',
  'bowSchema',
  'compareSetUps',
  'endSchema',
  'groupsOf',
  'groupsSchema',
  'learnRecord',
  'loadOpenCv',
  'photoToSheet',
  'readLog',
  'readPhoto',
  'readTuning',
  'readWithLog',
  'readingRequestSchema',
  'readingResultSchema',
  'readingSchema',
  'restoreSheet',
  'sessionSchema',
  'setUpDifference',
  'setUpSchema',
  'sheetToPhoto',
  'spreadAgainstDistance',
  'suggestKinds',
  'timeline',
  'trendEnds',
  'tuningSchema',
  'walkBack',
  'wordsOf',
  'zoneAt',
];

test('the public face of the core is what is listed', () => {
  expect(Object.keys(endwise).sort()).toEqual([...PUBLIC].sort());
});

test('from typed-in positions to a verdict by public names alone', () => {
  const groups = endwise.groupsOf(
    [
      { mm: [0, 10], kind: 'fletched' },
      { mm: [10, 0], kind: 'fletched' },
      { mm: [-10, -10], kind: 'fletched' },
      { mm: [5, 190], kind: 'bare' },
      { mm: [-5, 210], kind: 'bare' },
    ],
    { distanceM: 30 },
  );
  expect(groups.offset?.mm).toEqual([0, 200]);
  const tuning = endwise.readTuning(groups, { hand: 'right', distanceM: 30 })!;
  // Common practice, no published source: bare shafts high, so the nocking point is low.
  expect(tuning.summary).toMatch(/nocking point low/);
  const inches = endwise.wordsOf({
    language: 'en',
    catalogue: null,
    units: { ...endwise.METRIC, length: 'in' },
  });
  expect(
    endwise.readTuning(groups, { hand: 'right', distanceM: 30, words: inches })!.summary,
  ).toMatch(/7\.9 in/);
});

describe('types', () => {
  test('a position of one frame is no position of another', () => {
    expectTypeOf<PhotoPx>().not.toExtend<SheetMm>();
    expectTypeOf<SheetMm>().not.toExtend<SpotMm>();
    expectTypeOf<SpotMm>().not.toExtend<PhotoPx>();
    expectTypeOf(endwise.sheetToPhoto).parameter(1).toEqualTypeOf<SheetMm>();
    expectTypeOf(endwise.sheetToPhoto).returns.toEqualTypeOf<PhotoPx>();
    expectTypeOf(endwise.photoToSheet).parameters.toEqualTypeOf<[FaceFit, PhotoPx]>();
    expectTypeOf(endwise.photoToSheet).returns.toEqualTypeOf<SheetMm>();
    expectTypeOf(endwise.zoneAt).parameter(1).toEqualTypeOf<SpotMm>();
    expectTypeOf<Mark['px']>().toExtend<PhotoPx | null>();
    expectTypeOf<Mark['mm']>().toEqualTypeOf<SpotMm>();
    expectTypeOf<ScoredMark>().toExtend<Mark>();
  });

  test('a request may leave out what is not known, a reading says what is missing by null', () => {
    expectTypeOf<object>().toExtend<z.input<typeof endwise.readingRequestSchema>>();
    expectTypeOf<ReadingRequest['distanceM']>().toEqualTypeOf<number | undefined>();
    expectTypeOf<ReadingRequest['hand']>().toEqualTypeOf<Hand | undefined>();
    expectTypeOf<Reading['groups']>().toEqualTypeOf<Groups | null>();
    expectTypeOf<Reading['tuning']>().toEqualTypeOf<Tuning | null>();
    expectTypeOf<Groups['bare']>().toExtend<object | null>();
  });

  test('a result is a reading or an error, never both', () => {
    type Made = Extract<ReadingResult, { ok: true }>;
    type Refused = Extract<ReadingResult, { ok: false }>;
    expectTypeOf<Made>().toHaveProperty('reading').toEqualTypeOf<Reading>();
    expectTypeOf<Made>().not.toHaveProperty('error');
    expectTypeOf<Refused>().not.toHaveProperty('reading');
    expectTypeOf<Refused['error']>().toExtend<{ code: string; message: string }>();
  });

  test('reading takes a raster, and comes back as plain data', () => {
    expectTypeOf(endwise.readPhoto).parameter(0).toEqualTypeOf<Raster>();
    expectTypeOf(endwise.readPhoto).returns.resolves.toEqualTypeOf<Reading>();
    expectTypeOf<ReturnType<typeof endwise.readingSchema.parse>>().toEqualTypeOf<Reading>();
  });

  test('what EXIF says is hints: each may be missing', () => {
    expectTypeOf<Partial<ExifHints>>().toEqualTypeOf<ExifHints>();
  });

  test('records of the log carry what their schemas say', () => {
    expectTypeOf<z.infer<typeof endwise.endSchema>>().toEqualTypeOf<End>();
    expectTypeOf<z.infer<typeof endwise.sessionSchema>>().toEqualTypeOf<Session>();
    expectTypeOf<z.infer<typeof endwise.setUpSchema>>().toEqualTypeOf<SetUp>();
    expectTypeOf<z.infer<typeof endwise.archerRecordSchema>>().toEqualTypeOf<ArcherRecord>();
    expectTypeOf<End['sessionId']>().toEqualTypeOf<Session['id']>();
    expectTypeOf<End>().not.toHaveProperty('session');
  });
});
