import { USUAL_SCORING } from '../../src/face/scoring.ts';
import { archerIds, type ArcherIds } from '../../src/tuning/record/archer-id.ts';
import { arrowsOfMarks } from '../../src/reading/arrows-of-marks.ts';
import type { Archer, End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import type { EndToLog } from '../state/known.ts';
import { settingOf } from '../state/settings.ts';

/** Stands for the archer of a bow of which nobody has said whose it is. */
export const NOBODY = 'me';

/** What the log calls an archer whose name nobody has said. */
export const NO_NAME = 'No name';

/** Endings of ids of what stands for a bow or set-up that nobody wrote down. */
const UNTOLD_BOW = '-bow-';
const UNWRITTEN = '-unwritten';

/** Whether a bow or set-up of the log is one that a person wrote down. */
export function isWrittenDown({ id, ...row }: Bow | SetUp): boolean {
  if ('archerId' in row) return !id.startsWith(`${row.archerId}${UNTOLD_BOW}`);
  return !id.endsWith(UNWRITTEN);
}

/** The log's rows that a kept end stands for. */
export interface LogRows {
  readonly archer: Archer;
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly session: Session;
  readonly end: End;
}

/** Bows and set-ups as they were written down on this device. */
export interface Book {
  readonly bows: readonly Bow[];
  readonly setUps: readonly SetUp[];
}

/** One row for each id: the last. */
export function lastOfEach<T extends { readonly id: string }>(...lists: (readonly T[])[]): T[] {
  return [...new Map(lists.flat().map((one) => [one.id, one])).values()];
}

/** What the log calls the archer of an end; nobody said it where an end has none. */
export function nameOf({ archer }: EndToLog['settings']): string {
  return archer.trim() || NO_NAME;
}

/**
 * An end as the log has it. Ids are made of what they stand for, so that two devices that keep
 * ends of one archer on one day speak of the same archer and session.
 */
export function logRowsOf(kept: EndToLog, book: Book, idOf: ArcherIds = archerIds()): LogRows {
  const { settings, reading } = kept;
  const name = nameOf(settings);
  const archerId = idOf(name);
  const date = kept.createdAt;
  const known = book.setUps.find((setUp) => setUp.id === settings.setUpId);
  const bow: Bow = book.bows.find((one) => one.id === known?.bowId) ?? {
    id: `${archerId}${UNTOLD_BOW}${settings.hand}`,
    archerId,
    name: 'Bow',
    hand: settings.hand,
    adjusters: standardAdjusters(),
    notes: '',
  };
  const setUp: SetUp = known ?? {
    id: `${bow.id}${UNWRITTEN}`,
    bowId: bow.id,
    name: 'Not written down',
    // Before anything else, so that it never counts as a change.
    date: '2000-01-01T00:00:00.000Z',
    settings: {},
    preferredMrad: [0, 0],
    notes: '',
  };
  const { distanceM } = settings;
  const from = distanceM === null ? 'unsaid' : `${distanceM}m`;
  const day = date.slice(0, 10);
  const session: Session = {
    id: `${bow.id}-${day}-${from}-${reading.face}`,
    archerId,
    bowId: bow.id,
    setUpId: setUp.id,
    date: `${day}T00:00:00.000Z`,
    place: settings.place,
    setting: settingOf(settings),
    wind: settingOf(settings) === 'outdoor' ? settings.wind : '',
    distanceM,
    face: reading.face,
    notes: '',
  };
  const end: End = {
    id: kept.id,
    sessionId: session.id,
    setUpId: setUp.id,
    shotAt: date,
    arrows: arrowsOfMarks(reading.marks),
    scoring: reading.scoring ?? USUAL_SCORING,
    missed: { fletched: 0, bare: 0 },
    photo: null,
    setAside: false,
    notes: kept.note,
  };
  const archer: Archer = { id: archerId, name, hand: settings.hand, notes: '' };
  return { archer, bow: { ...bow, archerId }, setUp, session, end };
}
