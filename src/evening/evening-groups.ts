import type { FaceId } from '../face/faces.ts';
import { groupsOf } from '../groups/groups-of.ts';
import type { Groups } from '../groups/groups.ts';
import type { PlottedArrow } from '../drawing/draw-groups.ts';
import { readTuning } from '../tuning/read-tuning.ts';
import type { Tuning } from '../tuning/advice/tuning.ts';
import type { EveningLine } from './evening-line.ts';

/** Ends of one archer that may be read together: the same bow, face and distance. */
export interface EveningGroup {
  readonly archer: string;
  readonly bow: string;
  readonly face: FaceId;
  readonly distanceM: number | undefined;
  readonly lines: readonly Extract<EveningLine, { ok: true }>[];
  readonly arrows: readonly PlottedArrow[];
  readonly score: { readonly total: number; readonly inners: number; readonly arrows: number };
  readonly groups: Groups;
  /** Null unless there are both kinds. */
  readonly tuning: Tuning | null;
}

/** What was shot together is read together, in the order of the lines. */
export function eveningGroups(lines: readonly EveningLine[]): EveningGroup[] {
  const found = new Map<string, Extract<EveningLine, { ok: true }>[]>();
  for (const line of lines) {
    if (!line.ok) continue;
    const { hand, distanceM, preferredMrad } = line.request;
    const key = JSON.stringify([
      line.archer,
      line.bow,
      line.reading.face,
      distanceM,
      hand,
      preferredMrad,
    ]);
    found.set(key, [...(found.get(key) ?? []), line]);
  }
  return [...found.values()].map((own) => {
    const { archer, bow, reading, request } = own[0]!;
    const arrows = own.flatMap((line) =>
      line.reading.marks.filter((mark) => mark.age !== 'old').map(({ kind, mm }) => ({ kind, mm })),
    );
    const groups = groupsOf(arrows, { distanceM: request.distanceM });
    const sum = (of: (score: typeof reading.score) => number) =>
      own.reduce((total, line) => total + of(line.reading.score), 0);
    return {
      archer,
      bow,
      face: reading.face,
      distanceM: request.distanceM,
      lines: own,
      arrows,
      score: {
        total: sum((s) => s.total),
        inners: sum((s) => s.inners),
        arrows: sum((s) => s.arrows),
      },
      groups,
      tuning: readTuning(groups, request),
    };
  });
}
