import { expect, test } from 'vitest';
import { eveningGroups } from '../../src/evening/evening-groups.ts';
import { eveningLineSchema } from '../../src/evening/evening-line.ts';

const mark = (kind: string, mm: readonly [number, number], age = 'fresh') => ({
  ...{ id: 'm', spot: 0, px: [1, 2], sdMm: 0.4, state: 'hole', confidence: 0.99, zone: 9 },
  ...{ inner: false, lineCall: null, kind, mm, age },
});
const MARKS = [
  mark('fletched', [0, 0]),
  mark('fletched', [20, 0]),
  mark('bare', [10, 60]),
  mark('fletched', [99, 99], 'old'),
];
const line = (photo: string, about: object = {}, request: object = {}) =>
  eveningLineSchema.parse({
    ...{ photo, ok: true, elapsedMs: 1, archer: 'Juna', bow: 'blue' },
    request: { distanceM: 30, ...request },
    reading: {
      face: 'wa80',
      fit: { residualMm: 0.1, tiltDeg: 2, spots: [], notes: [] },
      marks: MARKS,
      score: { total: 27, inners: 1, arrows: 3 },
      ...{ groups: null, tuning: null, warnings: [] },
    },
    ...about,
  });

test('what was shot alike is read together, old marks and failed photos left out', () => {
  const failed = eveningLineSchema.parse({
    ...{ photo: 'x.jpg', ok: false, elapsedMs: 1, archer: 'Juna', bow: 'blue' },
    error: { code: 'no-face', message: 'No face.' },
  });
  const [own, ...others] = eveningGroups([line('1.jpg'), failed, line('2.jpg')]);
  expect(others).toEqual([]);
  expect(own!.lines.map(({ photo }) => photo)).toEqual(['1.jpg', '2.jpg']);
  expect(own!.score).toEqual({ total: 54, inners: 2, arrows: 6, tieBreak: { of: 'X', count: 2 } });
  expect(own!.groups.fletched!.n).toBe(4);
  // Bare shafts 60 mm over the fletched centre in 30 m: 2 mrad.
  expect(own!.groups.offset!.mrad!.map((mrad) => Math.round(1000 * mrad))).toEqual([0, 2000]);
});

test.each([
  ['another archer', { archer: 'Ravi' }, {}],
  ['another bow', { bow: 'red' }, {}],
  ['another distance', {}, { distanceM: 18 }],
  ['another hand', {}, { hand: 'left' }],
  ['another wish', {}, { preferredMrad: [0, 1] }],
])('%s is read apart', (_, about, request) => {
  expect(eveningGroups([line('1.jpg'), line('2.jpg', about, request)])).toHaveLength(2);
});

test('guessed tags of several ends are mixed: never sure, no change, and the tags are asked for', () => {
  const tagged = [
    ...[[-20, 0], [15, 12], [4, -18]].map((mm, i) => ({ ...mark('fletched', mm as [number, number]), id: `m${i}` })), // prettier-ignore
    ...[[10, 150], [-8, 170]].map((mm, i) => ({ ...mark('bare', mm as [number, number]), id: `b${i}` })), // prettier-ignore
  ];
  const end = (photo: string, guessed: boolean) => {
    const { reading } = line(photo) as { reading: object };
    const marks = tagged.map((one) => ({ ...one, kindFrom: guessed ? 'pattern' : 'person' }));
    const ways = [
      { bare: ['b0', 'b1'], p: 0.8 },
      { bare: ['m0', 'b1'], p: 0.2 },
    ];
    return line(photo, { reading: { ...reading, marks, guessedTags: guessed ? { ways } : null } });
  };
  const [told] = eveningGroups([end('1.jpg', false), end('2.jpg', false)]);
  expect(told!.tuning!.vertical).toMatchObject({ direction: 'high', certainty: 'sure' });
  const [guessed] = eveningGroups([end('1.jpg', false), end('2.jpg', true)]);
  expect(guessed!.tuning!.vertical).toMatchObject({ direction: 'high', certainty: 'likely' });
  expect(guessed!.tuning!.advice.map(({ action }) => action)).toEqual([
    'Say first which of the marks are the bare shafts.',
  ]);
  expect(guessed!.tuning!.advice[0]!.reason).toContain('80 %');
});

test('hand and preferred offset are the log’s, where a line was judged by one', () => {
  const log = { archer: 'juna', bow: 'blue', setUp: 'first', ends: 3 };
  const byLog = line('1.jpg', { log: { ...log, hand: 'left', preferredMrad: [0, 2] } });
  const [group] = eveningGroups([byLog]);
  expect(group!.tuning!.summary).toContain('(from your preferred offset)');
  expect(eveningGroups([byLog, line('2.jpg')])).toHaveLength(2);
});
