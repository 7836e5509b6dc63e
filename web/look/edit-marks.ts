import { say } from '../state/words.ts';
import { announce } from '../state/announce.ts';
import type { OpenEnd, UncountedPlace } from '../state/open-end.ts';
import type { PageMark } from '../state/end-record.ts';
import { rememberNumber } from '../state/arrow-numbers.ts';
import { nearestEvidence } from './nearest-evidence.ts';

/** How well a finger places a mark at the usual zoom, photo pixels (one sigma). */
const BY_HAND_SD_PX = 1.5;

/**
 * Adds a mark of this end and selects it: where a person points, and from there, as a step of its
 * own, to the evidence nearby. Undo takes it back to where it was pointed at.
 *
 * @param slackPx How far the pointing may be off, photo pixels.
 */
export function addMark(end: OpenEnd, px: readonly [number, number], slackPx: number): void {
  const { spot, mm } = end.placeOf(px);
  const map = end.maps.value[spot];
  const apartMm = (byPx: number): number => {
    const beside = map ? map.toMm([px[0] + byPx, px[1]]) : mm;
    return Math.hypot(beside[0] - mm[0], beside[1] - mm[1]);
  };
  const mark = newMark(end, { spot, mm, px: [px[0], px[1]], sdMm: apartMm(BY_HAND_SD_PX) });
  const { id } = mark;
  const evidence = nearestEvidence(end, mark, apartMm(slackPx));
  end.change((marks) => [...marks, mark]);
  end.selected.value = id;
  if (!evidence) {
    announce(say('Mark added.'), { label: say('Undo'), run: () => end.undo() });
    return;
  }
  end.change((marks) =>
    marks.map((other) => (other.id === id ? { ...other, ...evidence } : other)),
  );
  announce(say('Mark added on what shows there.'), {
    label: say('Put it where I pointed'),
    run: () => end.undo(),
  });
}

/** Adds an arrow of this end where the reading saw something that it did not count, and selects it. */
export function addPlace(end: OpenEnd, place: UncountedPlace): void {
  const { spot, mm, px, sdMm, radialSdMm } = place;
  const mark = newMark(end, { spot, mm, px, sdMm, radialSdMm });
  end.change((marks) => [...marks, mark]);
  end.selected.value = mark.id;
  announce(say('Mark added.'), { label: say('Undo'), run: () => end.undo() });
}

function newMark(
  end: OpenEnd,
  place: Pick<PageMark, 'spot' | 'mm' | 'px' | 'sdMm' | 'radialSdMm'>,
): PageMark {
  const taken = new Set(end.marks.value.map((mark) => mark.id));
  let number = end.marks.value.length + 1;
  while (taken.has(`p${number}`)) number++;
  return {
    id: `p${number}`,
    ...place,
    state: end.marks.value.some((other) => other.state === 'standing') ? 'standing' : 'hole',
    age: 'fresh',
    kind: 'unknown',
    confidence: 1,
  };
}

export function removeMark(end: OpenEnd, id: string): void {
  end.change((marks) => marks.filter((mark) => mark.id !== id));
  end.selected.value = null;
  announce(say('Mark removed.'), { label: say('Undo'), run: () => end.undo() });
}

/**
 * Tags a mark; an old hole leaves the end, any other tag brings it back in. Once as many of a kind are
 * told as were shot, the others are of the other kind.
 */
export function setKind(end: OpenEnd, id: string, kind: 'fletched' | 'bare' | 'old'): void {
  end.change((marks) =>
    withCounts(
      end,
      marks.map((mark) => {
        if (mark.id !== id) return mark;
        if (kind === 'old') return { ...mark, age: 'old' };
        return { ...mark, kind, kindFrom: 'person', age: 'fresh', confidence: 1 };
      }),
    ),
  );
}

/**
 * Says which arrow a mark is of; null takes its number away. An end has each arrow once: another mark
 * of the same kind gives the number up.
 */
export function setArrowNumber(end: OpenEnd, id: string, arrowNumber: string | null): void {
  const shown = new Map(end.evaluation.value?.marks.map((mark) => [mark.id, mark.kind]));
  end.change((marks) =>
    marks.map((mark): PageMark => {
      if (mark.id === id) return { ...mark, arrowNumber: arrowNumber ?? undefined };
      const isTaken = mark.arrowNumber === arrowNumber && shown.get(mark.id) === shown.get(id);
      return isTaken ? { ...mark, arrowNumber: undefined } : mark;
    }),
  );
  if (arrowNumber !== null) rememberNumber(arrowNumber);
}

function withCounts(end: OpenEnd, marks: readonly PageMark[]): readonly PageMark[] {
  const shot = end.settings.value;
  const told = (kind: 'fletched' | 'bare') =>
    marks.filter((mark) => mark.age !== 'old' && mark.kind === kind && mark.kindFrom !== 'pattern')
      .length;
  const others = told('bare') === shot.bare ? 'fletched' : told('fletched') === shot.fletched ? 'bare' : null; // prettier-ignore
  if (others === null) return marks;
  return marks.map((mark) =>
    mark.age !== 'old' && mark.kindFrom === 'pattern'
      ? { ...mark, kind: others, kindFrom: 'count' }
      : mark,
  );
}
