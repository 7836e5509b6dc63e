import type { Chance } from './virtual-archer.ts';

/**
 * Evenings as a log keeps them, of archers and bows whose truth is known. This shares no code with the
 * inference it tests, only plain data; its faces are rings of one width.
 */
export interface Evening {
  readonly sessionId: string;
  readonly setUpId: string;
  readonly distanceM: number;
  readonly ends: number;
  readonly fletched: number;
  readonly bare: number;
  /** Spread of fletched arrows per axis, and of bare shafts over it. */
  readonly sigmaMrad: number;
  readonly bareRatio: number;
  /** Bare centre less fletched centre, mrad [right, up]. */
  readonly offsetMrad: readonly [number, number];
  /** Standard deviation per axis of the aim, which all arrows of an end share. */
  readonly aimMrad: number;
  /** Where the sight is set, mrad [right, up]. */
  readonly sightMrad: readonly [number, number];
  /** Share of arrows that fly wild, and how many times as wide. */
  readonly wild: number;
  readonly wildTimes: number;
  /** How far the aim wanders from the first arrow of an end to the last, in spreads. */
  readonly driftSigmas: number;
  /** How far the aim of the bare shafts lies beside that of the fletched arrows, in spreads. */
  readonly apartSigmas: number;
}

export const QUIET: Omit<Evening, 'sessionId' | 'setUpId'> = {
  distanceM: 30,
  ends: 1,
  fletched: 3,
  bare: 2,
  sigmaMrad: 1.8,
  bareRatio: 1.2,
  offsetMrad: [0, 0],
  aimMrad: 0.5,
  sightMrad: [0, 0],
  wild: 0,
  wildTimes: 4,
  driftSigmas: 0,
  apartSigmas: 0,
};

/** Width of a ring, mm: the largest faces and those half as large. */
export const RING_MM = 40;

export interface ShotArrow {
  readonly kind: 'fletched' | 'bare';
  readonly mm: readonly [number, number];
  readonly value: number;
}

/** One end, fletched arrows first. */
export function shootOne(
  evening: Omit<Evening, 'sessionId' | 'setUpId'>,
  luck: Chance,
): ShotArrow[] {
  const { fletched, bare, sigmaMrad: sigma, distanceM } = evening;
  const { uniform, normal } = luck;
  const way = 2 * Math.PI * uniform();
  const along = [Math.cos(way), Math.sin(way)] as const;
  const aim = [evening.aimMrad * normal(), evening.aimMrad * normal()] as const;
  const count = fletched + bare;
  return Array.from({ length: count }, (_, i): ShotArrow => {
    const isBare = i >= fletched;
    const wide = uniform() < evening.wild ? evening.wildTimes : 1;
    const sd = sigma * (isBare ? evening.bareRatio : 1) * wide;
    const wandered =
      sigma * (evening.driftSigmas * (count > 1 ? i / (count - 1) : 0) + (isBare ? evening.apartSigmas : 0)); // prettier-ignore
    const at = (axis: 0 | 1) =>
      distanceM *
      (evening.sightMrad[axis] +
        aim[axis] +
        wandered * along[axis] +
        (isBare ? evening.offsetMrad[axis] : 0) +
        sd * normal());
    const mm = [at(0), at(1)] as const;
    return { kind: isBare ? 'bare' : 'fletched', mm, value: valueAt(mm) };
  });
}

/** By rings of one width, ten of them. */
function valueAt(mm: readonly [number, number]): number {
  return Math.max(0, 10 - Math.floor(Math.hypot(...mm) / RING_MM));
}

/** Rows of a log: sessions and ends. */
export interface KeptRows {
  readonly sessions: readonly ReturnType<typeof sessionRow>[];
  readonly ends: readonly ReturnType<typeof endRow>[];
}

export function keep(evenings: readonly Evening[], luck: Chance): KeptRows {
  const sessions = new Map<string, ReturnType<typeof sessionRow>>();
  const ends: ReturnType<typeof endRow>[] = [];
  for (const evening of evenings) {
    const id = `${evening.sessionId} at ${evening.distanceM}`;
    const day = 1 + sessions.size;
    const session = sessions.get(id) ?? sessionRow(id, evening, day);
    sessions.set(id, session);
    for (let i = 0; i < evening.ends; i++) {
      ends.push(endRow(`e${ends.length}`, session, evening, shootOne(evening, luck), ends.length));
    }
  }
  return { sessions: [...sessions.values()], ends };
}

function sessionRow(id: string, { distanceM, setUpId }: Evening, day: number) {
  return {
    id,
    archerId: 'a',
    bowId: 'bow',
    setUpId,
    date: new Date(Date.UTC(2031, 2, day, 10)).toISOString(),
    place: '',
    setting: 'outdoor' as const,
    wind: '',
    distanceM,
    face: 'wa80' as const,
    notes: '',
  };
}

function endRow(
  id: string,
  session: ReturnType<typeof sessionRow>,
  { setUpId }: Evening,
  arrows: readonly ShotArrow[],
  minute: number,
) {
  return {
    id,
    sessionId: session.id,
    setUpId,
    shotAt: new Date(Date.parse(session.date) + 60_000 * minute).toISOString(),
    arrows: arrows.map(({ mm, kind, value }, i) => ({
      id: `${id}-${i}`,
      mm: [mm[0], mm[1]] as [number, number],
      spot: 0,
      kind,
      zone: value,
      inner: false,
    })),
    missed: { fletched: 0, bare: 0 },
    photo: null,
    scoring: 'as-printed' as const,
    setAside: false,
    notes: '',
  };
}
