import { ENGLISH, type Words } from '../words/words.ts';
import type { FaceId } from '../face/faces.ts';
import type { Scoring } from '../face/scoring.ts';
import { averagedValues } from '../marks/averaged-values.ts';
import { scatterOf } from '../groups/scatter.ts';
import type { BowLog } from '../tuning/record/bow-log.ts';
import type { Arrow, End, Session } from '../tuning/record/session.ts';

/** One end by its values alone: what can be said of it without a distance. */
export interface ScoredEnd {
  readonly id: string;
  readonly sessionId: string;
  readonly setUpId: string;
  readonly shotAt: string;
  /** Null where nobody said. */
  readonly distanceM: number | null;
  readonly face: FaceId;
  readonly scoring: Scoring;
  /** Of every arrow but the bare shafts, misses as 0. */
  readonly values: readonly number[];
  readonly misses: number;
}

/** One end as the trends see it: values and scatter, with what it was shot with, where and when. */
export interface TrendEnd extends ScoredEnd {
  readonly distanceM: number;
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

type Kept = Pick<BowLog, 'sessions' | 'ends'>;

/** The ends of a log, oldest first, without those the archer set aside. */
export function scoredEnds(log: Kept): (ScoredEnd | TrendEnd)[] {
  const sessions = new Map(log.sessions.map((session) => [session.id, session]));
  const result: ScoredEnd[] = [];
  for (const end of log.ends) {
    const session = sessions.get(end.sessionId);
    if (!session || end.setAside) continue;
    const scored = scoredEnd(end, session);
    const { distanceM } = session;
    result.push(distanceM === null ? scored : { ...scored, ...measured(end, distanceM) });
  }
  return result.sort((a, b) => Date.parse(a.shotAt) - Date.parse(b.shotAt));
}

/** Those of them whose distance is known: without it no position is an angle. */
export function trendEnds(log: Kept): TrendEnd[] {
  return scoredEnds(log).filter(isMeasured);
}

/** The same of ends whose scores compare: shot from as far, at the same face, valued by the same rule. */
export function shotAs({
  distanceM,
  face,
  scoring,
}: Pick<ScoredEnd, 'distanceM' | 'face' | 'scoring'>): string {
  return `${distanceM} ${face} ${scoring}`;
}

export function isMeasured(end: ScoredEnd | TrendEnd): end is TrendEnd {
  return end.distanceM !== null;
}

/** How many of the ends are left out wherever angles are needed, as a sentence; null for none. */
export function withoutDistanceWords(
  ends: readonly ScoredEnd[],
  { count }: Words = ENGLISH,
): string | null {
  const left = ends.filter((end) => end.distanceM === null).length;
  if (left === 0) return null;
  return count(
    left,
    '1 end has no distance: until you say it only its score counts.',
    '{n} ends have no distance: until you say it only their scores count.',
  );
}

function scoredEnd(end: End, { id, distanceM, face }: Session): ScoredEnd {
  const hits = averagedValues(end.arrows);
  const misses = end.missed.fletched;
  return {
    id: end.id,
    sessionId: id,
    setUpId: end.setUpId,
    shotAt: end.shotAt,
    distanceM,
    face,
    scoring: end.scoring,
    values: [...hits, ...Array<number>(misses).fill(0)],
    misses: misses + hits.filter((zone) => zone === 0).length,
  };
}

function measured(
  end: End,
  distanceM: number,
): Omit<TrendEnd, Exclude<keyof ScoredEnd, 'distanceM'>> {
  const of = (kind: Arrow['kind']) => {
    const positions = end.arrows.filter((arrow) => arrow.kind === kind).map(({ mm }) => mm);
    return positions.length > 0 ? scatterOf(positions) : null;
  };
  const [fletched, bare] = [of('fletched'), of('bare')];
  return {
    distanceM,
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
