import { say, words } from './words.ts';
import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { FACES, type FaceId } from '../../src/face/faces.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { arrowsOfMarks } from '../../src/reading/arrows-of-marks.ts';
import { faceMap, type SpotMap } from '../../src/reading/face-map.ts';
import { marksAsLogged } from '../../src/reading/marks-as-logged.ts';
import { placesToLookAt } from '../../src/reading/places-to-look-at.ts';
import type { Hand } from '../../src/request/request.ts';
import type { Reading } from '../../src/reading/reading.ts';
import type { ByHand } from '../reader/messages.ts';
import { notice } from './announce.ts';
import { evaluate, shaftOf } from './evaluate.ts';
import type { Judgement } from '../../src/reading/judge-marks.ts';
import type { Known } from '../../src/reading/judge-tuning.ts';
import { plainMarkSchema, type EndRecord, type PageMark, type Step } from './end-record.ts';
import type { Settings } from './settings.ts';

export type EndStatus =
  | { readonly name: 'waiting' }
  | { readonly name: 'reading'; readonly stage: string }
  | {
      readonly name: 'failed';
      readonly code: string;
      readonly message: string;
      /** The face that the photo seems to show, where another was said. */
      readonly looksLike: FaceId | null;
    }
  | { readonly name: 'read' };

/** A place of the reading's `uncounted`, with an id to select it by. */
export type UncountedPlace = Reading['uncounted'][number] & { readonly id: string };

interface History {
  readonly states: readonly (readonly PageMark[])[];
  readonly at: number;
}

const MAX_HISTORY = 200;

/** One end on the page: photo, reading, corrections and what follows from them. */
export class OpenEnd {
  readonly id: string;
  readonly createdAt: string;
  readonly photoName: string;
  readonly photo: Blob;
  readonly focalPx: number | null;
  readonly url: string;
  /** Whether it was kept before, and is corrected now. */
  readonly isKept: boolean;
  readonly before: Signal<Blob | null>;
  /** The same end from somewhere else. */
  readonly also: Signal<Blob | null>;
  readonly settings: Signal<Settings>;
  readonly status: Signal<EndStatus>;
  readonly reading: Signal<Reading | null>;
  readonly byHand: Signal<ByHand | null>;
  /** Where the wanted face is, when a person chose among several. */
  readonly pick: Signal<[number, number] | null>;
  readonly step: Signal<Step>;
  /** Whether every tag was told, by vanes, by a person or by the counts. */
  readonly tagsConfirmed: ReadonlySignal<boolean>;
  /** Sizes said since it was read: until it is read with them, it is judged by none. */
  readonly unreadSizes: ReadonlySignal<string | null>;
  readonly note: Signal<string>;
  /** What earlier ends tell of the archer and the bow. */
  readonly known = signal<Known>({});
  readonly selected = signal<string | null>(null);
  /** The mark under the finger while it moves; not in the history until it is dropped. */
  readonly moving = signal<{ readonly id: string; readonly mark: PageMark } | null>(null);
  readonly maps: ReadonlySignal<readonly SpotMap[]>;
  readonly marks: ReadonlySignal<readonly PageMark[]>;
  readonly evaluation: ReadonlySignal<Judgement | null>;
  /** As a person says, else as earlier ends do; null while neither does. */
  readonly hand: ReadonlySignal<Hand | null>;
  /** Where something shows that was not counted; their ids are no marks'. */
  readonly places: ReadonlySignal<readonly UncountedPlace[]>;
  readonly canUndo: ReadonlySignal<boolean>;
  readonly canRedo: ReadonlySignal<boolean>;
  readonly #history: Signal<History>;
  /** As it came from a log: what was read of it, without where that is in the photo. */
  readonly #unplaced: Pick<EndRecord, 'reading' | 'marks'> | null;

  constructor(
    record: EndRecord,
    photo: Blob,
    before: Blob | null = null,
    also: Blob | null = null,
    isKept = false,
  ) {
    this.id = record.id;
    this.createdAt = record.createdAt;
    this.photoName = record.photoName;
    this.photo = photo;
    this.isKept = isKept;
    this.focalPx = record.focalPx;
    this.url = URL.createObjectURL(photo);
    this.before = signal(before);
    this.also = signal(also);
    this.settings = signal(record.settings);
    const isPlaced = record.reading === null || record.reading.fit.spots.length > 0;
    this.#unplaced = isPlaced ? null : { reading: record.reading, marks: record.marks };
    this.reading = signal(isPlaced ? record.reading : null);
    this.status = signal(this.reading.value ? { name: 'read' } : { name: 'waiting' });
    this.byHand = signal(record.byHand);
    this.pick = signal(record.pick);
    this.step = signal(record.step);
    this.note = signal(record.note);
    this.#history = signal({ states: [markedAsGuessed(record)], at: 0 });

    this.maps = computed(() => this.reading.value?.fit.spots.map((spot) => faceMap(spot)) ?? []);
    this.marks = computed(() => {
      const { states, at } = this.#history.value;
      const moving = this.moving.value;
      const marks = states[at]!;
      return moving ? marks.map((mark) => (mark.id === moving.id ? moving.mark : mark)) : marks;
    });
    this.evaluation = computed(() => {
      const reading = this.reading.value;
      return (
        reading &&
        evaluate(reading, this.marks.value, this.settings.value, this.known.value, words.value)
      );
    });
    this.hand = computed(() => this.settings.value.hand ?? this.evaluation.value?.hand ?? null);
    this.places = computed(() => {
      const reading = this.reading.value;
      if (!reading) return [];
      const shaftMm = shaftOf(reading, this.settings.value);
      return placesToLookAt(reading, this.marks.value, shaftMm).map((place) => ({
        ...place,
        id: `u${reading.uncounted.indexOf(place) + 1}`,
      }));
    });
    this.tagsConfirmed = computed(() =>
      this.marks.value.every((mark) => mark.age === 'old' || mark.kindFrom !== 'pattern'),
    );
    this.unreadSizes = computed(() => {
      const reading = this.reading.value;
      return reading && unreadSizes(reading, this.settings.value);
    });
    this.canUndo = computed(() => this.#history.value.at > 0);
    this.canRedo = computed(() => this.#history.value.at < this.#history.value.states.length - 1);
  }

  record(): EndRecord {
    return {
      id: this.id,
      createdAt: this.createdAt,
      photoName: this.photoName,
      settings: this.settings.value,
      focalPx: this.focalPx,
      ...(this.reading.value
        ? {
            reading: this.reading.value,
            marks: [...this.#history.value.states[this.#history.value.at]!],
          }
        : (this.#unplaced ?? { reading: null, marks: null })),
      byHand: this.byHand.value,
      pick: this.pick.value,
      step: this.step.value,
      tagsConfirmed: this.tagsConfirmed.value,
      note: this.note.value,
    };
  }

  /** Takes a fresh reading; corrections of an earlier one are dropped, arrows of a log placed in it. */
  take(reading: Reading): void {
    const logged = this.reading.value === null ? this.#unplaced?.reading : null;
    const marks = logged ? placedIn(reading, logged) : reading.marks;
    this.#history.value = { states: [marks.map((mark) => plainMarkSchema.parse(mark))], at: 0 };
    this.reading.value = reading;
    this.selected.value = null;
    this.moving.value = null;
    this.status.value = { name: 'read' };
  }

  /** Takes the tags for told: as they are shown, or with these marks as the bare shafts. */
  tellTags(bare?: readonly string[]): void {
    const shown = new Map(this.evaluation.value?.marks.map(({ id, kind }) => [id, kind]));
    this.change((marks) =>
      marks.map((mark): PageMark => {
        if (mark.age === 'old') return mark;
        const kind = bare
          ? bare.includes(mark.id)
            ? 'bare'
            : 'fletched'
          : (shown.get(mark.id) ?? mark.kind);
        return { ...mark, kind, kindFrom: 'person' };
      }),
    );
  }

  /** Puts the marks as they are now on the history. */
  change(next: (marks: readonly PageMark[]) => readonly PageMark[]): void {
    const { states, at } = this.#history.value;
    const changed = next(states[at]!);
    const kept = [...states.slice(0, at + 1), changed].slice(-MAX_HISTORY);
    this.#show({ states: kept, at: kept.length - 1 });
  }

  undo(): void {
    this.#step(-1);
  }

  redo(): void {
    this.#step(1);
  }

  #step(by: 1 | -1): void {
    const { states, at } = this.#history.value;
    const next = at + by;
    if (next < 0 || next >= states.length) return;
    this.#show({ states, at: next });
    const selected = this.selected.value;
    if (selected !== null && !states[next]!.some((mark) => mark.id === selected)) {
      this.selected.value = null;
    }
  }

  #show(history: History): void {
    this.moving.value = null;
    // What a notice offers to undo would no longer be what Undo undoes.
    notice.value = null;
    this.#history.value = history;
  }

  /** The same mark with its axis at another place of the photo. */
  movedTo(mark: PageMark, px: readonly [number, number]): PageMark {
    const { spot, mm } = this.placeOf(px);
    return { ...mark, px: [px[0], px[1]], spot, mm };
  }

  /** Where a mark is shown, also one that only the second photo shows. */
  shownAt({ px, spot, mm }: Pick<PageMark, 'px' | 'spot' | 'mm'>): readonly [number, number] {
    return px ?? this.maps.value[spot]!.toPx(mm);
  }

  /** Which spot a place of the photo belongs to, and where on it. */
  placeOf(px: readonly [number, number]): { spot: number; mm: [number, number] } {
    const places = this.maps.value.map((map, spot) => {
      const [x, y] = map.toMm(px);
      return { spot, mm: [x, y] as [number, number] };
    });
    places.sort((a, b) => Math.hypot(...a.mm) - Math.hypot(...b.mm));
    return places[0] ?? { spot: 0, mm: [0, 0] };
  }

  close(): void {
    URL.revokeObjectURL(this.url);
  }
}

/** Ends stored by an earlier page say of all tags together whether a person confirmed them. */
function markedAsGuessed({ marks, tagsConfirmed }: EndRecord): readonly PageMark[] {
  return (marks ?? []).map((mark) =>
    mark.kindFrom !== undefined || mark.kind === 'unknown' || tagsConfirmed
      ? mark
      : { ...mark, kindFrom: 'pattern' },
  );
}

/** Face and shaft that were said since, in words; null where the reading is by what is said. */
function unreadSizes(
  { face, shaftMm }: Pick<Reading, 'face' | 'shaftMm'>,
  said: Settings,
): string | null {
  const other = [
    ...(said.face === 'auto' || said.face === face ? [] : [say(FACES[said.face].name)]),
    ...(said.shaftMm === null || (shaftMm ?? said.shaftMm) === said.shaftMm
      ? []
      : [say('shafts of {size}', { size: `${words.value.number(said.shaftMm)} mm` })]),
  ];
  return other.length === 0 ? null : other.join(', ');
}

/** A log's arrows in a photo that was read anew: its own fresh marks give way, earlier ones stay. */
function placedIn({ fit, marks }: Reading, logged: Reading): Mark[] {
  const earlier = marks
    .filter((mark) => mark.age === 'old')
    .map((mark) => ({ ...mark, id: `earlier-${mark.id}` }));
  return marksAsLogged({ fit, marks: earlier }, arrowsOfMarks(logged.marks));
}
