import { describe, expect, it } from 'vitest';
import { drawComparison } from '../../src/drawing/draw-comparison.ts';
import { drawSpreadAgainstDistance } from '../../src/drawing/draw-spread-against-distance.ts';
import { drawTimeline } from '../../src/drawing/draw-timeline.ts';
import { drawWalkBack } from '../../src/drawing/draw-walk-back.ts';
import { compareSetUps } from '../../src/trends/compare-set-ups.ts';
import { learnRecord } from '../../src/trends/learn-record.ts';
import { spreadAgainstDistance } from '../../src/trends/spread-against-distance.ts';
import { timeline } from '../../src/trends/timeline.ts';
import { trendEnds, type TrendEnd } from '../../src/trends/trend-ends.ts';
import { walkBack } from '../../src/trends/walk-back.ts';
import { endSchema, sessionSchema } from '../../src/tuning/record/session.ts';
import { random } from '../groups/random.ts';

interface Shot {
  readonly setUpId?: string;
  readonly session?: number;
  readonly distanceM?: number;
  readonly sigmaMrad?: number;
  readonly bareRatio?: number;
  readonly at?: readonly [number, number];
  /** Points an arrow before rounding. */
  readonly level?: number;
}

function shooter(seed: number) {
  const { normal } = random(seed);
  let count = 0;
  return (shot: Shot = {}): TrendEnd => {
    const { setUpId = 'a', session = 0, distanceM = 30, sigmaMrad = 1.5, bareRatio = 1.2 } = shot;
    const { at = [0, 0], level = 8.5 } = shot;
    const squares = (n: number, sd: number) => {
      let sum = 0;
      for (let i = 0; i < 2 * (n - 1); i++) sum += (sd * normal()) ** 2;
      return sum;
    };
    const id = `e${count++}`;
    return {
      id,
      sessionId: `s${session}`,
      setUpId,
      shotAt: new Date(Date.UTC(2031, 3, 1 + session, 10, count)).toISOString(),
      distanceM,
      face: 'wa80',
      scoring: 'as-printed',
      values: Array.from({ length: 6 }, () =>
        Math.min(10, Math.max(0, Math.round(level + normal()))),
      ),
      misses: 0,
      fletched: 6,
      bare: 3,
      fletchedMeanMm: [
        at[0] + (sigmaMrad * distanceM * normal()) / Math.sqrt(6),
        at[1] + (sigmaMrad * distanceM * normal()) / Math.sqrt(6),
      ],
      offsetMrad: [1, -1],
      squaresMrad2: { fletched: squares(6, sigmaMrad), bare: squares(3, sigmaMrad * bareRatio) },
    };
  };
}

const times = <T>(n: number, make: (i: number) => T) =>
  Array.from({ length: n }, (_, i) => make(i));

describe('trendEnds', () => {
  it('counts misses as M and leaves bare shafts out of the score', () => {
    const session = sessionSchema.parse({ id: 's', archerId: 'a', bowId: 'b', setUpId: 'u', date: '2031-04-08T10:00:00Z', setting: 'indoor', distanceM: 20, face: 'wa60' }); // prettier-ignore
    const arrow = (mm: [number, number], kind: string, zone: number) => ({ id: `${zone}`, mm, kind, zone }); // prettier-ignore
    const end = endSchema.parse({
      id: 'e',
      sessionId: 's',
      setUpId: 'u',
      shotAt: '2031-04-08T10:10:00Z',
      arrows: [arrow([0, 0], 'fletched', 10), arrow([20, 0], 'fletched', 9), arrow([10, 40], 'bare', 8)],
      missed: { fletched: 1, bare: 1 },
    }); // prettier-ignore
    const [trend] = trendEnds({ sessions: [session], ends: [end, { ...end, id: 'x', setAside: true }] }); // prettier-ignore
    expect(trend).toMatchObject({ values: [10, 9, 0], misses: 1, offsetMrad: [0, 2], fletched: 2, bare: 1 }); // prettier-ignore
    expect(trend!.squaresMrad2.fletched).toBeCloseTo(200 / 400, 9);
  });
});

describe('learnRecord', () => {
  it('finds the spread and how much wider bare shafts are', () => {
    const shoot = shooter(3);
    const ends = times(60, (i) => shoot({ session: i % 10, sigmaMrad: 1.7, bareRatio: 1.4 }));
    const record = learnRecord(ends, { at: '2031-04-12T00:00:00Z' })!;
    expect(record.sigmaMrad).toBeGreaterThan(1.7 * 0.92);
    expect(record.sigmaMrad).toBeLessThan(1.7 * 1.08);
    expect(Math.abs(Math.log(record.bareSpread!.ratio / 1.4))).toBeLessThan(0.15);
    expect(record.bareSpread!.logSd).toBeLessThan(0.1);
    expect(record.dayLogSd!).toBeLessThan(0.12);
  });

  it('forgets slowly, and is not thrown by one wild end', () => {
    const shoot = shooter(4);
    const old = times(30, () => shoot({ session: 0, sigmaMrad: 3 }));
    const late = times(30, () => shoot({ session: 700, sigmaMrad: 1.5 }));
    const now = learnRecord([...old, ...late], { at: '2033-03-05T00:00:00Z' })!;
    expect(now.sigmaMrad).toBeLessThan(1.75);
    expect(now.arrows).toBeLessThan(0.8 * 6 * 60);
    const wild = { ...late[0]!, squaresMrad2: { fletched: 2000, bare: 5 } };
    const tamed = learnRecord([...late, wild], { at: '2033-03-05T00:00:00Z' })!;
    expect(tamed.sigmaMrad).toBeLessThan(1.75);
    expect(learnRecord([], { at: '2033-03-05T00:00:00Z' })).toBeNull();
  });
});

describe('compareSetUps', () => {
  it('finds the better of two set-ups shot by turns on the same days', () => {
    const shoot = shooter(5);
    const ends = times(48, (i) =>
      shoot({
        session: i % 6,
        setUpId: i % 2 ? 'b' : 'a',
        level: (i % 2 ? 8.9 : 8.2) + 0.3 * (i % 6),
        sigmaMrad: i % 2 ? 1.2 : 1.7,
      }),
    );
    // i % 6 and i % 2 go together, so shift half of them for a real pairing.
    const paired = ends.map((end, i) => ({ ...end, sessionId: `s${Math.floor(i / 8)}` }));
    const comparison = compareSetUps(paired, 'a', 'b');
    expect(comparison.pairedSessions).toBe(6);
    expect(comparison.byValue!.verdict).toBe('second');
    expect(comparison.bySpread!.verdict).toBe('second');
    expect(comparison.bySpread!.effect).toBeLessThan(0.9);
    const swapped = compareSetUps(paired, 'b', 'a');
    expect(swapped.byValue!.pSecondBetter).toBeCloseTo(1 - comparison.byValue!.pSecondBetter, 6);
  });

  it('is as sure as it is right over many pairs of set-ups', () => {
    const { normal } = random(77);
    let [sure, wrong, inside] = [0, 0, 0];
    const pairs = 150;
    for (let k = 0; k < pairs; k++) {
      const shoot = shooter(1000 + k);
      const logRatio = 0.2 * normal();
      const days = times(4, () => Math.exp(0.1 * normal()));
      const ends = times(24, (i) => {
        const second = i % 2 === 1;
        const day = Math.floor(i / 6);
        return shoot({
          session: day,
          setUpId: second ? 'b' : 'a',
          sigmaMrad: 1.5 * days[day]! * (second ? Math.exp(logRatio) : 1),
        });
      });
      const { bySpread } = compareSetUps(ends, 'a', 'b');
      if (bySpread!.verdict === 'first' || bySpread!.verdict === 'second') {
        sure++;
        if ((bySpread!.verdict === 'second') !== logRatio < 0) wrong++;
      }
      const [low, high] = bySpread!.interval90;
      if (Math.exp(logRatio) > low && Math.exp(logRatio) < high) inside++;
    }
    expect(sure).toBeGreaterThan(20);
    expect(wrong / sure).toBeLessThan(0.08);
    expect(inside / pairs).toBeGreaterThan(0.83);
    expect(inside / pairs).toBeLessThan(0.97);
  });

  it('says how many arrows are still needed, and when nothing can be compared', () => {
    const shoot = shooter(6);
    const few = times(6, (i) => shoot({ session: 0, setUpId: i % 2 ? 'b' : 'a', level: i % 2 ? 8.7 : 8.5 })); // prettier-ignore
    const comparison = compareSetUps(few, 'a', 'b');
    expect(comparison.byValue!.verdict).toBe('undecided');
    expect(comparison.byValue!.arrowsNeeded).toBeGreaterThan(20);
    expect(comparison.summary).toMatch(/undecided/);
    // An evening each, however far apart: the evenings could have done it, and how to shoot it is said.
    const evenings = times(20, (i) => shoot({ session: i % 2, setUpId: i % 2 ? 'b' : 'a', level: i % 2 ? 9.4 : 7.4 })); // prettier-ignore
    const each = compareSetUps(evenings, 'a', 'b');
    expect(each.byValue!.pSecondBetter).toBeGreaterThan(0.6);
    expect(each.byValue!.pSecondBetter).toBeLessThan(0.78);
    expect(each.summary).toMatch(/on the same day, in turns: first, second, second, first\.$/);
    const apart = [shoot({ setUpId: 'a', distanceM: 18 }), shoot({ setUpId: 'b', distanceM: 30 })];
    expect(compareSetUps(apart, 'a', 'b')).toMatchObject({ byValue: null, bySpread: null });
  });
});

describe('spreadAgainstDistance', () => {
  it('tells a constant angle from groups that open up', () => {
    const shoot = shooter(8);
    const series = (power: number) =>
      spreadAgainstDistance(
        [18, 30, 50, 70].flatMap((distanceM, session) =>
          times(12, () => shoot({ session, distanceM, sigmaMrad: 1.5 * (distanceM / 30) ** (power - 1) })),
        ),
      ); // prettier-ignore
    const steady = series(1);
    expect(Math.abs(steady.slope!.mean - 1)).toBeLessThan(0.25);
    expect(steady.verdict).not.toBe('faster than distance');
    const opening = series(1.6);
    expect(opening.verdict).toBe('faster than distance');
    expect(opening.slope!.interval90[0]).toBeLessThan(1.6);
    expect(opening.slope!.interval90[1]).toBeGreaterThan(1.6);
    expect(spreadAgainstDistance([shoot(), shoot()])).toMatchObject({ slope: null, verdict: 'too little' }); // prettier-ignore
    expect(opening.meaning).toMatch(/are \d\.\d times as wide \(90 %: \d\.\d to \d\.\d\)/);
  });

  it('says nothing of a law from two distances, or from ones that hardly differ', () => {
    const shoot = shooter(8);
    const at = (...distances: number[]) => {
      const ends = distances.flatMap((distanceM, session) =>
        times(12, () => shoot({ session, distanceM, at: [2 * distanceM, 0] })),
      );
      return [spreadAgainstDistance(ends), walkBack(ends)] as const;
    };
    for (const trend of at(18, 70)) {
      expect(trend.line).toBeNull();
      expect(trend.meaning).toContain('one more distance');
      expect(trend.points.length).toBe(2);
    }
    for (const trend of at(30, 35, 40)) {
      expect(trend.line).toBeNull();
      expect(trend.meaning).toContain('45 m would do');
    }
    for (const trend of at(18, 30, 50)) expect(trend.line).not.toBeNull();
  });
});

describe('walkBack', () => {
  it('finds the drift of a straight line and the bend of a curved one', () => {
    const shoot = shooter(9);
    const series = (x: (m: number) => number) =>
      walkBack([10, 20, 30, 40, 50].flatMap((distanceM, session) => times(4, () => shoot({ session, distanceM, at: [x(distanceM), 0] })))); // prettier-ignore
    const drifting = series((m) => 2 * (m - 10));
    const half = (drifting.drift!.interval90[1] - drifting.drift!.interval90[0]) / 2;
    // Within three standard errors, where the interval is 1.7 of them.
    expect(Math.abs(drifting.drift!.mrad - 2)).toBeLessThan((3 / 1.7) * half);
    expect(drifting.drift!.pRight).toBeGreaterThan(0.99);
    expect(drifting.meaning).toMatch(/to the right by 2\.\d mm per metre \(90 %: \d\.\d to \d\.\d\).* centre shot/); // prettier-ignore
    expect(series((m) => 0.12 * (m - 30) ** 2).meaning).toMatch(/bends.*plunger/);
    expect(walkBack([shoot()]).drift).toBeNull();
  });
});

describe('timeline and drawings', () => {
  const shoot = shooter(10);
  const ends = times(24, (i) => shoot({ session: 7 * Math.floor(i / 4), setUpId: i < 12 ? 'a' : 'b', distanceM: i % 8 < 4 ? 30 : 50 })); // prettier-ignore

  it('marks the change of set-up', () => {
    const line = timeline(ends);
    expect(line.points).toHaveLength(6);
    expect(line.changes).toEqual([{ at: ends[12]!.shotAt, from: 'a', to: 'b' }]);
    for (const point of line.points) {
      expect(point.arrows).toBe(24);
      expect(point.spread!.interval90[0]).toBeLessThan(point.spread!.sigmaMrad);
      expect(point.offset!.mrad[0]).toBeCloseTo(1, 9);
    }
  });

  it('draws well-formed, finite pictures, also of nothing', () => {
    const empty = compareSetUps([], 'a', 'b');
    const pictures = [
      drawTimeline(timeline(ends), { a: 'Dawn & dew', b: 'Noon <2>' }),
      drawTimeline(timeline([])),
      drawComparison(compareSetUps(ends, 'a', 'b'), { first: 'Dawn', second: 'Noon' }),
      drawComparison(empty, { first: 'Dawn', second: 'Noon' }),
      drawSpreadAgainstDistance([{ name: 'Dawn', trend: spreadAgainstDistance(ends) }]),
      drawSpreadAgainstDistance([]),
      drawWalkBack(walkBack(ends)),
      drawWalkBack(walkBack([])),
    ];
    for (const picture of pictures) {
      expect(picture).toMatch(/^<svg [^>]*role="img"[^>]*aria-label="[^"]+"/);
      expect(picture).not.toMatch(/NaN|Infinity|undefined/);
      const open = picture.match(/<(svg|g|text)[ >]/g)!.length;
      expect(picture.match(/<\/(svg|g|text)>/g)).toHaveLength(open);
    }
    expect(pictures[0]).toContain('Noon &lt;2&gt;');
    // Two sides of the offset differ in shape, not in colour only.
    const shapes = new Set([...pictures[0]!.matchAll(/<path d="(M-[^"]+Z)"/g)].map((m) => m[1]));
    expect(shapes.size).toBeGreaterThanOrEqual(2);
  });
});
