import { arrowsOfMarks } from '../../src/reading/arrows-of-marks.ts';
import type { Archer, End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import type { EndToLog } from '../state/known.ts';
import { settingOf } from '../state/settings.ts';

/** The log's rows that a kept end stands for. */
export interface LogRows {
  readonly archer: Archer;
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly session: Session;
  readonly end: End;
}

/**
 * An end as the log has it. Ids are made of what they stand for, so that two devices that keep
 * ends of one archer on one day speak of the same archer and session.
 */
export function logRowsOf(
  kept: EndToLog,
  book: { readonly bows: readonly Bow[]; readonly setUps: readonly SetUp[] },
): LogRows {
  const { settings, reading } = kept;
  const name = settings.archer.trim() || 'No name';
  const archerId = idOf(name);
  const date = kept.createdAt;
  const known = book.setUps.find((setUp) => setUp.id === settings.setUpId);
  const bow: Bow = book.bows.find((one) => one.id === known?.bowId) ?? {
    id: `${archerId}-bow-${settings.hand}`,
    archerId,
    name: 'Bow',
    hand: settings.hand,
    adjusters: standardAdjusters(),
    notes: '',
  };
  const setUp: SetUp = known ?? {
    id: `${bow.id}-unwritten`,
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
    missed: { fletched: 0, bare: 0 },
    photo: null,
    setAside: false,
    notes: kept.note,
  };
  const archer: Archer = { id: archerId, name, hand: settings.hand, notes: '' };
  return { archer, bow: { ...bow, archerId }, setUp, session, end };
}

/** An id that stays the same for the same name, in letters that fit anywhere. */
function idOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-|-$/g, '');
  return plain.slice(0, 28) || 'archer';
}
