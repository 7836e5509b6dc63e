import { ENGLISH, wordsOf } from '../../src/words/words.ts';
import { GERMAN, GERMAN_HANDED_OUT } from '../../src/words/german.ts';
import { describe, expect, it } from 'vitest';
import { beforeHelps, wouldGainByBefore } from '../../src/evening/before-helps.ts';
import { eveningCsv } from '../../src/tables/evening-csv.ts';
import { eveningLineSchema } from '../../src/evening/evening-line.ts';
import { eveningSheets } from '../../src/evening/evening-sheets.ts';
import { byNeed, needsLook } from '../../src/evening/needs-look.ts';
import { orderEvening } from '../../src/evening/order-evening.ts';
import { placeOfPath } from '../../src/evening/place-of-path.ts';
import type { Reading } from '../../src/reading/reading.ts';

type Mark = Reading['marks'][number];

const mark = (about: Partial<Mark> = {}): Mark => ({
  id: 'm1',
  spot: 0,
  mm: [10, 20],
  px: [500, 400],
  sdMm: 0.4,
  state: 'hole',
  age: 'fresh',
  kind: 'fletched',
  confidence: 0.99,
  zone: 9,
  inner: false,
  lineCall: null,
  ...about,
});
const line = (
  about: object,
  marks: readonly Mark[] = [mark(), mark({ kind: 'bare', mm: [40, 80] })],
) =>
  eveningLineSchema.parse({
    photo: 'a.jpg',
    ok: true,
    elapsedMs: 1,
    reading: {
      face: 'wa80',
      fit: { residualMm: 0.1, tiltDeg: 2, spots: [], notes: [] },
      marks,
      score: { total: 18, inners: 0, arrows: 2 },
      groups: null,
      tuning: null,
      warnings: [],
    },
    ...about,
  });

describe('placeOfPath', () => {
  it.each([
    ['Juna Feldweg/soft plunger/IMG_0001.jpg', 'Juna Feldweg', 'soft plunger'],
    ['juna_long riser_3.jpg', 'juna', 'long riser'],
    ['Ravi - 07.jpg', 'Ravi', undefined],
    ['2031-05-04/Ravi/DSC01234.JPG', 'Ravi', undefined],
    ['DCIM/PXL_20310504_180309.jpg', undefined, undefined],
    ['IMG_1234 (2).HEIC', undefined, undefined],
    ['20310504_180309.jpg', undefined, undefined],
  ])('%s', (path, archer, bow) => {
    const place = placeOfPath(path);
    expect([place.archer, place.bow]).toEqual([archer, bow]);
  });
});

describe('orderEvening', () => {
  it('orders by time, begins a session after a pause, and offers the photo before', () => {
    const at = (time: string) => ({ takenAt: `2031-05-04T${time}:00` });
    const ordered = orderEvening([
      { path: 'Ravi/3.jpg', ...at('21:40') },
      { path: 'Ravi/1.jpg', ...at('18:10') },
      { path: 'Ravi/2.jpg', ...at('18:02') },
      { path: 'Juna/10.jpg' },
      { path: 'Juna/9.jpg' },
    ]);
    expect(ordered.map(({ path, session, end, earlier }) => [path, session, end, earlier])).toEqual(
      [
        ['Ravi/2.jpg', 1, 1, null],
        ['Ravi/1.jpg', 1, 2, 'Ravi/2.jpg'],
        ['Ravi/3.jpg', 2, 1, null],
        // Without times their names stand in: whether it is from before, the marks tell.
        ['Juna/9.jpg', 1, 1, null],
        ['Juna/10.jpg', 1, 2, 'Juna/9.jpg'],
      ],
    );
  });

  it('takes names that say before as the photo before, not as an end', () => {
    const ordered = orderEvening([
      { path: 'Juna/end-1-before.jpg' },
      { path: 'Juna/end-1-after.jpg' },
      { path: 'Ravi/end-1-before.jpg' },
    ]);
    expect(ordered.map(({ path, before }) => [path, before])).toEqual([
      ['Juna/end-1-after.jpg', 'Juna/end-1-before.jpg'],
      // Nothing was taken after it: it is read like any other.
      ['Ravi/end-1-before.jpg', null],
    ]);
  });

  it.each(['1-before', '1-vorher', '1-avant'])('knows %s.jpg as the photo before 1.jpg', (name) => {
    const ordered = orderEvening([{ path: `Juna/${name}.jpg` }, { path: 'Juna/1.jpg' }]);
    expect(ordered.map(({ path, before }) => [path, before])).toEqual([
      ['Juna/1.jpg', `Juna/${name}.jpg`],
    ]);
  });

  it.each([
    '3-also',
    '3-other-side',
    '3_other side',
    'also-3',
    '3-auch',
    '3-andere-seite',
    '3-aussi',
    '3-autre-côté',
    // The accent as some systems write it.
    '3-autre-co\u0302te\u0301',
  ])('knows %s.jpg as another side of 3.jpg, beside the photo before', (name) => {
    const ordered = orderEvening([
      { path: `Juna/${name}.jpg` },
      { path: 'Juna/3-before.jpg' },
      { path: 'Juna/3.jpg' },
    ]);
    expect(ordered.map(({ path, before, also }) => [path, before, also])).toEqual([
      ['Juna/3.jpg', 'Juna/3-before.jpg', `Juna/${name}.jpg`],
    ]);
  });

  it('loses no photo: what no end wants is an end of its own', () => {
    const paths = [
      '2-also.jpg',
      '3.jpg',
      '3-also.jpg',
      '3-auch.jpg',
      '3-before.jpg',
      '3-vorher.jpg',
    ];
    const ordered = orderEvening(paths.map((path) => ({ path: `Juna/${path}` })));
    const named = ordered.flatMap(({ path, before, also }) => [path, before, also]);
    expect(named.filter((path) => path !== null).sort()).toEqual(
      paths.map((path) => `Juna/${path}`).sort(),
    );
    expect(ordered.map(({ path }) => path)).toContain('Juna/2-also.jpg');
  });

  it('takes no word for a side of an end that is part of another, nor one for a name', () => {
    const ordered = orderEvening([{ path: 'alsok_3.jpg' }, { path: 'ilka_other_side_3.jpg' }]);
    expect(ordered.map(({ archer, bow, also }) => [archer, bow, also])).toEqual([
      ['alsok', '', null],
      ['ilka', '', null],
    ]);
  });
});

describe('before and after', () => {
  const shot = { fletched: 1, bare: 1 };
  const old = mark({ age: 'old' });
  const unsure = [mark({ confidence: 0.6 }), mark({ confidence: 0.6 }), old];

  it('is tried where holes had to be told apart by their looks, and counts were given', () => {
    expect(wouldGainByBefore(unsure, shot)).toBe(true);
    expect(wouldGainByBefore(unsure, {})).toBe(false);
    expect(wouldGainByBefore([mark(), mark()], shot)).toBe(false);
    expect(wouldGainByBefore([mark({ state: 'standing' }), mark(), old], shot)).toBe(false);
  });

  it('helps only where as many new marks are found as arrows were shot, and more surely', () => {
    expect(beforeHelps([mark(), mark(), old], unsure, shot)).toBe(true);
    expect(beforeHelps([old, old, old], unsure, shot)).toBe(false);
    expect(beforeHelps([mark(), old, old], unsure, shot)).toBe(false);
    const poor = mark({ confidence: 0.3 });
    expect(beforeHelps([poor, poor, old], unsure, shot)).toBe(false);
  });
});

describe('needsLook', () => {
  it('is the probability that something is wrong, from confidences and line calls', () => {
    const marks = [mark({ confidence: 0.9 }), mark({ lineCall: { zone: 10, p: 0.5 } }), mark()];
    const look = needsLook({ marks }, { fletched: 2, bare: 1 });
    // 1 - 0.9 * 0.99 * 0.5 * 0.99
    expect(look.p).toBeCloseTo(0.558955, 6);
    expect(look).toMatchObject({ needed: true, reasons: ['1 mark unsure', '1 line call'] });
  });

  it('puts failures first, then wrong counts, then doubt', () => {
    const results = [
      { photo: 'sure', ok: true, look: needsLook({ marks: [mark()] }, {}) },
      {
        photo: 'count',
        ok: true,
        look: needsLook({ marks: [mark()] }, { fletched: 3, bare: 2 }),
      },
      {
        photo: 'failed',
        ok: false,
        look: line({ ok: false, error: { code: 'no-face', message: 'No.' } }).look,
      },
      {
        photo: 'doubt',
        ok: true,
        look: needsLook({ marks: [mark({ confidence: 0.4 })] }, {}),
      },
    ];
    expect(results.sort(byNeed).map(({ photo }) => photo)).toEqual([
      'failed',
      'count',
      'doubt',
      'sure',
    ]);
    expect(results[1]!.look.reasons).toEqual(['1 marks for 5 arrows']);
  });
});

describe('sheets and tables', () => {
  it('are in the language that they are asked for in, what stopped a reading too', () => {
    const words = wordsOf({
      language: 'de',
      catalogue: GERMAN,
      handedOut: Object.keys(GERMAN_HANDED_OUT),
    });
    const message = ENGLISH.say('The face is too small in the photo: go closer.');
    const results = [
      line({ archer: 'Juna', request: { distanceM: 30 } }),
      line({ archer: 'Juna', ok: false, error: { code: 'too-small', message } }),
    ];
    const [squad, juna] = eveningSheets(results, { words });
    for (const text of [
      '<html lang="de">',
      'Mannschaft',
      'Ringe je Pfeil',
      '80\u00a0cm, zehn Zonen',
    ]) {
      expect(squad!.html).toContain(text);
    }
    for (const text of ['Die Rohschäfte liegen', '30\u00a0m', 'Geh näher heran', '9,00']) {
      expect(juna!.html).toContain(text);
    }
    expect(juna!.html).not.toMatch(/\b(the|arrows|shafts|and)\b/);
  });

  it('are one for the squad and one per archer, with nothing of a name taken for markup', () => {
    const evil = '<script>alert(1)</script>';
    const sheets = eveningSheets([
      line({ archer: evil, photo: evil }),
      line({ archer: '../Juna' }),
      line({ archer: 'Juna!' }),
      line({ ok: false, error: { code: 'no-face', message: 'No face was found.' } }),
    ]);
    expect(sheets.map(({ file }) => file)).toEqual([
      'squad.html',
      'archer-script-alert-1-script.html',
      'archer-juna.html',
      'archer-juna-2.html',
      'archer-not-named.html',
    ]);
    for (const { html } of sheets) expect(html).not.toContain('<script');
    expect(sheets[0]!.html).toContain('No face was found.');
    expect(sheets[1]!.html).toContain('&lt;script&gt;');
    // The offset of the pooled arrows: (40, 80) less (10, 20).
    expect(sheets[2]!.html).toMatch(/60 mm above and 30 mm to the\s+right/);
  });

  it('hold no cell that a spreadsheet would run', () => {
    const csv = eveningCsv([line({ photo: '=HYPERLINK("x")', archer: '@SUM(1)', bow: '-2+3' })]);
    expect(csv).toContain(`"'=HYPERLINK(""x"")",'@SUM(1),'-2+3,`);
  });
});
