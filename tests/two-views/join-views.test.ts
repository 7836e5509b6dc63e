import { describe, expect, test } from 'vitest';
import type { SpotMm } from '../../src/face/coordinates.ts';
import { plainFit } from '../../src/fit/camera/plain-fit.ts';
import { sheetToPhoto, spotToSheet } from '../../src/fit/camera/project.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { joinViews, type ViewOfEnd } from '../../src/two-views/join-views.ts';
import { Random } from '../rendering/random.ts';

/** A camera 2 m in front of the face, so far aside, deg. */
function fitFrom(asideDeg: number): FaceFit {
  const [c, s] = [Math.cos((asideDeg * Math.PI) / 180), Math.sin((asideDeg * Math.PI) / 180)];
  const fit = plainFit({
    face: 'wa80',
    photoSize: [1600, 1200],
    rotation: [c, 0, -s, 0, -1, 0, -s, 0, -c],
    translationMm: [0, 0, 2000],
    focalPx: 1200,
    k1: 0,
    k2: 0,
    centrePx: [800, 600],
    bulge: [],
    spotCentresMm: [[0, 0]],
    ringOffsetsMm: [],
  });
  return { ...fit, upSdDeg: 1.5 };
}

const FROM_LEFT = fitFrom(-35);
const FROM_RIGHT = fitFrom(40);

interface Seen {
  readonly mm: SpotMm;
  readonly sdMm?: number;
  readonly confidence?: number;
  readonly kind?: Mark['kind'];
  readonly state?: Mark['state'];
  readonly age?: Mark['age'];
}

function view(fit: FaceFit, seen: readonly Seen[]): ViewOfEnd {
  const marks = seen.map(({ mm, sdMm = 0.6, ...more }, i): Mark => ({
    id: `m${i + 1}`,
    spot: 0,
    mm,
    px: sheetToPhoto(fit, spotToSheet(fit, 0, mm)),
    sdMm,
    state: 'standing',
    age: 'fresh',
    kind: 'unknown',
    confidence: 0.9,
    ...more,
  }));
  return { fit, found: { marks, uncounted: [], warnings: [], lastingWarnings: [] } };
}

/** The same places as a photo sees them whose "up" is off, each a little beside. */
function turned(places: readonly SpotMm[], deg: number, random: Random, sdMm = 0.6): Seen[] {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return places.map(([x, y]) => ({
    mm: [x * c - y * s + random.normal(sdMm), x * s + y * c + random.normal(sdMm)],
    sdMm,
  }));
}

const END: readonly SpotMm[] = [
  [-30, 60],
  [12, 18],
  [40, -55],
  [-75, -20],
  [5, 24],
  [90, 40],
];

describe('two photos of one end', () => {
  test('what both show is joined, though their "up" differs, and what one hides is added', () => {
    const random = new Random(5);
    const first = view(FROM_LEFT, turned(END.slice(0, 5), 0, random));
    const second = view(FROM_RIGHT, turned(END.slice(1), -3, random));
    const { marks, warnings } = joinViews(first, second, 6);
    expect(marks).toHaveLength(6);
    expect(warnings).toEqual([]);
    for (const place of END) {
      const near = marks.filter(({ mm }) => Math.hypot(mm[0] - place[0], mm[1] - place[1]) < 3);
      expect(near).toHaveLength(1);
    }
    const hidden = marks.filter(({ px }) => px === null);
    expect(hidden).toHaveLength(1);
    expect(hidden[0]!.mm[0]).toBeCloseTo(90, -1);
    expect(hidden[0]!.note).toMatch(/second photo/);
    const both = marks.filter(({ mm }) => Math.hypot(mm[0] - 12, mm[1] - 18) < 3)[0]!;
    expect(both.sdMm).toBeLessThan(0.5);
    expect(both.confidence).toBeGreaterThan(0.97);
  });

  test('the uncertainty of joined marks holds what it promises', () => {
    const random = new Random(11);
    let within = 0;
    let all = 0;
    for (let trial = 0; trial < 60; trial++) {
      const first = turned(END, 0, random, 0.8).map((seen) => ({ ...seen, radialSdMm: 0.8 }));
      const second = turned(END, random.normal(2), random, 1.2);
      const { marks } = joinViews(view(FROM_LEFT, first), view(FROM_RIGHT, second), 6);
      for (const mark of marks.filter(({ px }) => px !== null)) {
        const truth = END.reduce((a, b) =>
          Math.hypot(a[0] - mark.mm[0], a[1] - mark.mm[1]) <
          Math.hypot(b[0] - mark.mm[0], b[1] - mark.mm[1])
            ? a
            : b,
        );
        for (const axis of [0, 1] as const) {
          all++;
          if (Math.abs(mark.mm[axis] - truth[axis]) < 1.645 * mark.sdMm) within++;
        }
      }
    }
    expect(all).toBeGreaterThan(650);
    expect(within / all).toBeGreaterThan(0.87);
    expect(within / all).toBeLessThan(0.93);
  });

  test('kinds come from either photo, and from none where they contradict one another', () => {
    const random = new Random(3);
    const kinds = (own: readonly Mark['kind'][]) =>
      turned(END, 0, random).map((seen, i) => ({ ...seen, kind: own[i]! }));
    const first = kinds(['bare', 'unknown', 'fletched', 'fletched', 'unknown', 'unknown']);
    const second = kinds(['unknown', 'bare', 'fletched', 'bare', 'unknown', 'unknown']);
    const { marks } = joinViews(view(FROM_LEFT, first), view(FROM_RIGHT, second), undefined);
    const kindAt = (place: SpotMm) =>
      marks.find(({ mm }) => Math.hypot(mm[0] - place[0], mm[1] - place[1]) < 3)!.kind;
    expect(END.map(kindAt)).toEqual(['bare', 'bare', 'fletched', 'unknown', 'unknown', 'unknown']);
  });

  test('arrows that stand in one photo only lie on the holes of the other', () => {
    const random = new Random(4);
    const holes = turned(END, 1, random).map((seen): Seen => ({
      ...seen,
      state: 'hole',
      age: 'unknown',
    }));
    const first = view(FROM_LEFT, turned(END, 0, random));
    const { marks } = joinViews(first, view(FROM_RIGHT, holes), 6);
    expect(marks.filter(({ state, age }) => state === 'standing' && age === 'fresh')).toHaveLength(
      6,
    );
    expect(marks).toHaveLength(6);
  });

  test('a photo of other arrows is refused with a sentence', () => {
    const random = new Random(9);
    const others = END.map((): SpotMm => [random.normal(55), random.normal(55)]);
    const first = view(FROM_LEFT, turned(END, 0, random));
    const second = view(FROM_RIGHT, turned(others, 0, random));
    expect(() => joinViews(first, second, 6)).toThrow(/second photo shows other arrows/);
  });

  test('photos that contradict one another on which way is up are told of', () => {
    const random = new Random(2);
    const first = view(FROM_LEFT, turned(END, 0, random));
    const second = view(FROM_RIGHT, turned(END, 17, random));
    const { marks, warnings } = joinViews(first, second, 6);
    expect(marks).toHaveLength(6);
    expect(marks.every(({ px }) => px !== null)).toBe(true);
    expect(warnings.join()).toMatch(/differ by 17 degrees on which way is up/);
  });

  test('what each photo says of the shafts is passed on once, what each says of the count is not', () => {
    const random = new Random(6);
    const [a, b] = [FROM_LEFT, FROM_RIGHT].map((fit) => view(fit, turned(END, 0, random)));
    const warned = ({ fit, found }: ViewOfEnd, own: readonly string[]): ViewOfEnd => ({
      fit,
      found: { ...found, warnings: ['7 shot, 6 found.', ...own], lastingWarnings: [...own] },
    });
    const { warnings } = joinViews(warned(a!, ['Thick.']), warned(b!, ['Thick.', 'Thin.']), 6);
    expect(warnings).toEqual(['Thick.', 'Thin.']);
  });
});
