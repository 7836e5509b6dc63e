import { ENGLISH, type Words } from '../words/words.ts';
import type { FaceId } from '../face/faces.ts';
import { SCORINGS, USUAL_SCORING, type Scoring } from '../face/scoring.ts';
import { usualDistancesM } from '../face/usual-distances.ts';
import { groupsOf } from '../groups/groups-of.ts';
import type { Groups } from '../groups/groups.ts';
import type { Score } from '../marks/score-marks.ts';
import type { PlottedArrow } from '../drawing/draw-groups.ts';
import { readTuning } from '../tuning/read-tuning.ts';
import type { Tuning } from '../tuning/advice/tuning.ts';
import type { Reading } from '../reading/reading.ts';
import type { EveningLine } from './evening-line.ts';

/** Ends of one archer that may be read together: the same bow, face, rule of scoring and distance. */
export interface EveningGroup {
  readonly archer: string;
  readonly bow: string;
  readonly face: FaceId;
  readonly distanceM: number | undefined;
  readonly lines: readonly Extract<EveningLine, { ok: true }>[];
  readonly arrows: readonly PlottedArrow[];
  readonly scoring: Scoring;
  readonly score: Score;
  readonly groups: Groups;
  /** Null unless there are both kinds. */
  readonly tuning: Tuning | null;
}

/** What was shot together is read together, in the order of the lines. */
export function eveningGroups(
  lines: readonly EveningLine[],
  words: Words = ENGLISH,
): EveningGroup[] {
  const found = new Map<string, Extract<EveningLine, { ok: true }>[]>();
  for (const line of lines) {
    if (!line.ok) continue;
    const { hand, distanceM, preferredMrad } = judgedFor(line);
    const key = JSON.stringify([
      line.archer,
      line.bow,
      line.reading.face,
      line.reading.scoring ?? USUAL_SCORING,
      distanceM,
      hand,
      preferredMrad,
    ]);
    found.set(key, [...(found.get(key) ?? []), line]);
  }
  return [...found.values()].map((own) => {
    const { archer, bow, reading } = own[0]!;
    const { scoring = USUAL_SCORING } = reading;
    const { hand, distanceM, preferredMrad } = judgedFor(own[0]!);
    const ways = jointWays(own.map(({ reading }) => reading));
    const { arrows } = ways[0]!;
    const groups = groupsOf(arrows, { distanceM });
    const distances = distanceM === undefined ? usualDistancesM(reading.face) : [distanceM];
    const sum = (of: (score: typeof reading.score) => number) =>
      own.reduce((total, line) => total + of(line.reading.score), 0);
    return {
      archer,
      bow,
      face: reading.face,
      scoring,
      distanceM,
      lines: own,
      arrows,
      score: {
        total: sum((s) => s.total),
        inners: sum((s) => s.inners),
        arrows: sum((s) => s.arrows),
        tieBreak: {
          of: SCORINGS[scoring].tieBreak,
          count: sum((s) => s.tieBreak?.count ?? s.inners),
        },
      },
      groups,
      tuning: readTuning(groups, {
        hand,
        distanceM,
        preferredMrad,
        words,
        supposed: distances.map((atM) => ({
          distanceM: atM,
          ways: ways.map((way) => ({
            weight: way.weight,
            groups: groupsOf(way.arrows, { distanceM: atM }),
          })),
        })),
        ...(own.some((line) => line.reading.guessedTags !== null) && {
          pOfTags: ways[0]!.weight / ways.reduce((all, { weight }) => all + weight, 0),
        }),
      }),
    };
  });
}

/** What a line was judged for: as the log has it where one was used, else as it was said. */
function judgedFor({ request, log }: Extract<EveningLine, { ok: true }>) {
  const { hand = request.hand ?? null, preferredMrad = request.preferredMrad } = log ?? {};
  return { hand, preferredMrad, distanceM: request.distanceM };
}

/** More ways to tag all ends at once than these are not weighed. */
const JOINT_WAYS_AT_MOST = 24;

interface JointWay {
  readonly weight: number;
  readonly arrows: readonly PlottedArrow[];
}

/** The ways to tag several ends at once, the likeliest first: of each those that were handed out with it. */
function jointWays(readings: readonly Reading[]): JointWay[] {
  return readings.reduce<JointWay[]>(
    (joint, reading) =>
      joint
        .flatMap((way) =>
          waysOf(reading).map((own) => ({
            weight: way.weight * own.weight,
            arrows: [...way.arrows, ...own.arrows],
          })),
        )
        .sort((a, b) => b.weight - a.weight)
        .slice(0, JOINT_WAYS_AT_MOST),
    [{ weight: 1, arrows: [] }],
  );
}

function waysOf({ marks, guessedTags }: Reading): JointWay[] {
  const own = marks.filter((mark) => mark.age !== 'old');
  if (guessedTags === null) {
    return [{ weight: 1, arrows: own.map(({ kind, mm }) => ({ kind, mm })) }];
  }
  return guessedTags.ways.map(({ bare, p }) => ({
    weight: p,
    arrows: own.map(({ id, kind, kindFrom, mm }) => ({
      kind: kindFrom !== 'pattern' ? kind : bare.includes(id) ? 'bare' : 'fletched',
      mm,
    })),
  }));
}
