import { describe, expect, it } from 'vitest';
import * as endwise from '../src/index.ts';
import { standardAdjusters } from '../src/tuning/bow/standard-adjusters.ts';
import { readFileSync } from 'node:fs';
import { truthFit, type FitTruth } from './fit/truth-fit.ts';
import { keep, QUIET, type Evening } from './simulation/kept-evenings.ts';
import { chance } from './simulation/virtual-archer.ts';

const truth = readFileSync(new URL('../test-images/fresh-02.json', import.meta.url), 'utf8');
const fit = truthFit(JSON.parse(truth) as FitTruth);
const archer = { id: 'a', name: 'Ilka Brandt', hand: 'right', notes: '' } as const;
const bow = endwise.bowSchema.parse({ id: 'bow', archerId: 'a', name: 'Rook', hand: 'right', adjusters: standardAdjusters().slice(0, 3) }); // prettier-ignore
const setUp = (id: string, day: number) =>
  endwise.setUpSchema.parse({
    id,
    bowId: 'bow',
    name: id,
    date: `2031-03-0${day}T09:00:00Z`,
    settings: { plunger: { type: 'dial', line: day, mark: 3 } },
    preferredMrad: [0.5, 0],
  });
const setUps = [setUp('u', 1), setUp('v', 2)];
const evenings: Evening[] = [10, 20, 30].map((distanceM, i) => ({ ...QUIET, sessionId: `s${i}`, setUpId: i === 1 ? 'v' : 'u', distanceM, ends: 2 })); // prettier-ignore
const { sessions, ends } = keep(evenings, chance(5));
const log = { setUps, sessions: [...sessions], ends: [...ends] };
const trends = endwise.trendEnds(log);
const arrows = [
  { mm: [0, 10], kind: 'fletched' },
  { mm: [12, -4], kind: 'fletched' },
  { mm: [-10, 3], kind: 'fletched' },
  { mm: [5, 90], kind: 'bare' },
  { mm: [-5, 110], kind: 'bare' },
] as const;
const record = { sigmaMrad: 1.8, arrows: 60, bareSpread: { ratio: 1.2, logSd: 0.2 } };
const groups = endwise.groupsOf(arrows, { distanceM: 30, record });
const request = endwise.readingRequestSchema.parse({ distanceM: 30, fletched: 3, bare: 2, shaftMm: 5.5 }); // prettier-ignore
const mark = { id: 'm1', spot: 0, mm: [1, 2], px: [300, 200], sdMm: 0.4, state: 'hole', age: 'fresh', kind: 'bare', confidence: 0.9 } as const; // prettier-ignore
const tuningOptions = {
  hand: 'right',
  distanceM: 30,
  record,
  preferredMrad: [0, 0],
  deadZoneMrad: 0.7,
  log: endwise.readLog(bow, log, { setUpId: 'v', distanceM: 30 })!,
} as const;
const photo = { width: 2, height: 2, data: new Uint8Array(16) };
const reading = { face: 'wa80', marks: [mark], warnings: [] };
const known = { archer, bow, setUpId: 'v', ...log };

/** Arguments that each public function takes as they are. What needs OpenCV is not run to its end. */
const TAKES: Readonly<Record<string, readonly unknown[]>> = {
  zoneAt: [endwise.FACES.wa80, [10, 20], 5.5],
  aboveFace: [fit, [10, 20], 30],
  photoToSheet: [fit, [500, 400]],
  sheetToPhoto: [fit, [10, 20]],
  groupsOf: [arrows, { distanceM: 30, record }],
  suggestKinds: [arrows, { fletched: 3, bare: 2, distanceM: 30, record }],
  restoreSheet: [bow, setUps[0], setUps[1]],
  setUpDifference: [bow, setUps[0], setUps[1]],
  readLog: [bow, log, { setUpId: 'v', record, distanceM: 30, preferredMrad: [0, 0] }],
  readTuning: [groups, tuningOptions],
  compareSetUps: [trends, 'u', 'v'],
  learnRecord: [trends, { at: '2031-03-09T09:00:00Z', halfLifeDays: 100 }],
  spreadAgainstDistance: [trends],
  timeline: [trends],
  trendEnds: [log],
  walkBack: [trends],
  readWithLog: [reading, request, known, '2031-03-09T09:00:00Z'],
  readPhoto: [photo, request, {}, { focalPx: 3000, record, pick: [1, 1] }],
};
/** Without a number among their arguments. */
const WITHOUT = ['loadOpenCv', 'wordsOf'];
const NEEDS_OPEN_CV = ['readPhoto'];

/** What each schema takes. */
const PARSES: Readonly<Record<string, unknown>> = {
  archerRecordSchema: record,
  bowSchema: bow,
  endSchema: ends[0],
  groupsSchema: groups,
  readingRequestSchema: request,
  sessionSchema: sessions[0],
  setUpSchema: setUps[0],
  tuningSchema: endwise.readTuning(groups, tuningOptions),
};
/** Of a whole reading: its parts are those above. */
const WHOLE = ['archerSchema', 'readingResultSchema', 'readingSchema'];

/** Copies of plain data with one number each put in another's place. */
function* withOne(value: unknown, number: number): Generator<unknown> {
  if (typeof value === 'number') yield number;
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return;
  for (const [key, inside] of Object.entries(value)) {
    if (key === 'df' && number === Infinity) continue;
    for (const other of withOne(inside, number)) {
      yield Array.isArray(value)
        ? value.map((one: unknown, i) => (String(i) === key ? other : one))
        : { ...value, [key]: other };
    }
  }
}

describe('numbers that cannot be', () => {
  const functions = Object.entries(endwise).filter(
    ([name, value]) => typeof value === 'function' && !name.endsWith('Error'),
  );
  const schemas = Object.keys(endwise).filter((name) => name.endsWith('Schema'));

  it('are looked for in every public function and schema', () => {
    expect(functions.map(([name]) => name).sort()).toEqual([...Object.keys(TAKES), ...WITHOUT].sort()); // prettier-ignore
    expect(schemas.sort()).toEqual([...Object.keys(PARSES), ...WHOLE].sort());
  });

  it.each(Object.keys(TAKES))('%s refuses each of them with a typed error', async (name) => {
    const run = endwise[name as keyof typeof endwise] as (...args: unknown[]) => unknown;
    const args = TAKES[name]!;
    if (!NEEDS_OPEN_CV.includes(name)) await run(...args);
    let tried = 0;
    for (const number of [NaN, Infinity, -Infinity, 1e160]) {
      for (const other of withOne(args, number)) {
        tried++;
        const refused = await Promise.resolve()
          .then(() => run(...(other as unknown[])))
          .then(
            () => null,
            (error: unknown) => error,
          );
        expect(refused).toBeInstanceOf(endwise.InputError);
        expect(refused).toMatchObject({ value: number });
      }
    }
    // A function without numbers would pass whatever it does.
    expect(tried).toBeGreaterThan(3);
  });

  it('says where it stands and what to do', () => {
    expect(() => endwise.groupsOf([{ mm: [0, NaN], kind: 'bare' }])).toThrow(
      'groupsOf was given NaN at 0.0.mm.1: numbers are finite and within ±1000000000. Leave out what is not known.',
    );
  });

  it.each(Object.keys(PARSES))('%s refuses what is not finite', (name) => {
    const schema = endwise[name as keyof typeof endwise] as (typeof endwise)['endSchema'];
    expect(schema.safeParse(PARSES[name]).success).toBe(true);
    for (const number of [NaN, Infinity, -Infinity]) {
      for (const other of withOne(PARSES[name], number)) {
        expect(schema.safeParse(other).success).toBe(false);
      }
    }
  });
});
