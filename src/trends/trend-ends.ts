import type { FaceId } from '../face/faces.ts';
import { scatterOf } from '../groups/scatter.ts';
import type { BowLog } from '../tuning/record/bow-log.ts';
import type { Arrow, End, Session } from '../tuning/record/session.ts';

/** One end as the trends see it: values and scatter, with what it was shot with, where and when. */
export interface TrendEnd {
  readonly id: string;
  readonly sessionId: string;
  readonly setUpId: string;
  readonly shotAt: string;
  readonly distanceM: number;
  readonly face: FaceId;
  /** Of every arrow but the bare shafts, misses as 0. */
  readonly values: readonly number[];
  readonly misses: number;
  /** Arrows on the face. */
  readonly fletched: number;
  readonly bare: number;
  /** Centre of the fletched arrows, mm; null without any. */
  readonly fletchedMeanMm: readonly [number, number] | null;
  /** Bare centre less fletched centre, mrad; null unless there are both. */
  readonly offsetMrad: readonly [number, number] | null;
  /** Squared distances from the own kind's centre. */
  readonly squaresMrad2: { readonly fletched: number; readonly bare: number };
}

/** The ends of a log, oldest first, without those the archer set aside. */
export function trendEnds(log: Pick<BowLog, 'sessions' | 'ends'>): TrendEnd[] {
  const sessions = new Map(log.sessions.map((session) => [session.id, session]));
  const result: TrendEnd[] = [];
  for (const end of log.ends) {
    const session = sessions.get(end.sessionId);
    if (session && !end.setAside) result.push(trendEnd(end, session));
  }
  return result.sort((a, b) => Date.parse(a.shotAt) - Date.parse(b.shotAt));
}

function trendEnd(end: End, { id, distanceM, face }: Session): TrendEnd {
  const of = (kind: Arrow['kind']) => {
    const positions = end.arrows.filter((arrow) => arrow.kind === kind).map(({ mm }) => mm);
    return positions.length > 0 ? scatterOf(positions) : null;
  };
  const [fletched, bare] = [of('fletched'), of('bare')];
  const hits = end.arrows.filter((arrow) => arrow.kind !== 'bare').map((arrow) => arrow.zone);
  const misses = end.missed.fletched;
  return {
    id: end.id,
    sessionId: id,
    setUpId: end.setUpId,
    shotAt: end.shotAt,
    distanceM,
    face,
    values: [...hits, ...Array<number>(misses).fill(0)],
    misses: misses + hits.filter((zone) => zone === 0).length,
    fletched: fletched?.n ?? 0,
    bare: bare?.n ?? 0,
    fletchedMeanMm: fletched?.mean ?? null,
    offsetMrad:
      fletched && bare
        ? [
            (bare.mean[0] - fletched.mean[0]) / distanceM,
            (bare.mean[1] - fletched.mean[1]) / distanceM,
          ]
        : null,
    squaresMrad2: {
      fletched: (fletched?.sumOfSquares ?? 0) / distanceM ** 2,
      bare: (bare?.sumOfSquares ?? 0) / distanceM ** 2,
    },
  };
}
