import { describe, expect, it } from 'vitest';
import { spreadAgainstDistance } from '../../src/trends/spread-against-distance.ts';
import { timeline } from '../../src/trends/timeline.ts';
import { trendEnds, type TrendEnd } from '../../src/trends/trend-ends.ts';
import { walkBack } from '../../src/trends/walk-back.ts';
import { endSchema, sessionSchema } from '../../src/tuning/record/session.ts';
import { random } from '../groups/random.ts';

const { normal } = random(77);

/** Ends of three fletched and two bare arrows, spread 1.5 mrad, bare shafts 1.2 times as wide. */
function shoot(
  ends: readonly { session: string; distanceM: number; times?: number; aimMrad?: number }[],
): TrendEnd[] {
  const at = '2031-05-04T10:00:00Z';
  const ids = [...new Set(ends.map(({ session, distanceM }) => `${session} ${distanceM}`))];
  const sessions = ids.map(
    (id) =>
    sessionSchema.parse({ id, archerId: 'a', bowId: 'b', setUpId: 'u', date: at, setting: 'outdoor', distanceM: Number(id.split(' ')[1]), face: 'wa122' }), // prettier-ignore
  );
  const rows = ends.map(({ session, distanceM, times = 1, aimMrad = 0 }, i) => {
    const aim = [aimMrad * normal(), aimMrad * normal()];
    const arrows = ['fletched', 'fletched', 'fletched', 'bare', 'bare'].map((kind, k) => {
      const sd = 1.5 * times * (kind === 'bare' ? 1.2 : 1);
      const mm = [0, 1].map((axis) => distanceM * (aim[axis]! + sd * normal()));
      return { id: `${k}`, mm, kind, zone: 5 };
    });
    return endSchema.parse({ id: `${i}`, sessionId: `${session} ${distanceM}`, setUpId: 'u', shotAt: at, arrows }); // prettier-ignore
  });
  // Sessions of two distances are one day.
  return trendEnds({ sessions, ends: rows }).map((end) => ({ ...end, sessionId: end.sessionId.split(' ')[0]! })); // prettier-ignore
}

function share(draws: number, holds: () => boolean): number {
  return Array.from({ length: draws }, holds).filter(Boolean).length / draws;
}

describe('intervals of nine in ten', () => {
  it("hold a session's offset from one end on", () => {
    for (const ends of [1, 3]) {
      const held = share(500, () => {
        const [point] = timeline(shoot(Array.from({ length: ends }, () => ({ session: 's', distanceM: 30 })))).points; // prettier-ignore
        return Math.abs(point!.offset!.mrad[0]) <= point!.offset!.half90Mrad;
      });
      expect(Math.abs(held - 0.9)).toBeLessThan(0.045);
    }
  });

  it('hold the growth of groups with distance, of steady archers and of others', () => {
    for (const daySd of [0, 0.2]) {
      const held = share(150, () => {
        const ends = ['a', 'b', 'c', 'd'].flatMap((session) => {
          const times = Math.exp(daySd * normal());
          return [18, 30, 50].flatMap((distanceM) => [1, 2, 3].map(() => ({ session, distanceM, times }))); // prettier-ignore
        });
        const [low, high] = spreadAgainstDistance(shoot(ends)).slope!.interval90;
        return low <= 1 && high >= 1;
      });
      expect(held).toBeGreaterThan(0.83);
      expect(held).toBeLessThan(0.98);
    }
  });

  it('find no drift of impacts more often than said where every end has an aim of its own', () => {
    const held = share(300, () => {
      const ends = [10, 20, 30, 40].map((distanceM) => ({ session: 's', distanceM, aimMrad: 0.7 }));
      const { interval90 } = walkBack(shoot(ends)).drift!;
      return interval90[0] <= 0 && interval90[1] >= 0;
    });
    expect(held).toBeGreaterThan(0.85);
  });
});
