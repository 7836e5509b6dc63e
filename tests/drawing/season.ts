import type { End, Session } from '../../src/tuning/record/session.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { standardAdjusters } from '../../src/tuning/bow/standard-adjusters.ts';
import { chance } from '../simulation/virtual-archer.ts';

/** An invented archer's spring: three set-ups of one bow, shot on eight days at three distances. */
export interface Season {
  readonly bow: Bow;
  readonly setUps: readonly SetUp[];
  readonly sessions: readonly Session[];
  readonly ends: readonly End[];
}

const DAYS = [
  { date: '2031-03-08', distanceM: 18, setUps: ['winter'] },
  { date: '2031-03-15', distanceM: 18, setUps: ['winter'] },
  { date: '2031-04-05', distanceM: 30, setUps: ['winter', 'softer'] },
  { date: '2031-04-12', distanceM: 50, setUps: ['softer'] },
  { date: '2031-04-19', distanceM: 30, setUps: ['softer', 'raised'] },
  { date: '2031-05-03', distanceM: 50, setUps: ['raised'] },
  { date: '2031-05-17', distanceM: 18, setUps: ['raised'] },
  { date: '2031-06-21', distanceM: 30, setUps: ['softer', 'raised'] },
] as const;

/**
 * By set-up: spread per axis and offset [right, up], mrad. Stiff and high at first; the softer plunger
 * brings the bare shafts to the right, the raised nocking point brings them down.
 */
const SHOOTS = {
  winter: { sigma: 2.4, offset: [-3, 1.5] },
  softer: { sigma: 2.2, offset: [-0.8, 1.6] },
  raised: { sigma: 1.7, offset: [-0.7, -0.3] },
} as const;

const setUp = (
  id: keyof typeof SHOOTS,
  name: string,
  date: string,
  settings: SetUp['settings'],
): SetUp => ({ id, bowId: 'bow', name, date, settings, preferredMrad: [0, 0], notes: '' });

export function season(): Season {
  const { uniform, normal } = chance(310_308);
  const dial = (line: number, mark: number) => ({ type: 'dial', line, mark }) as const;
  const number = (value: number) => ({ type: 'number', value }) as const;
  const setUps = [
    setUp('winter', 'Winter hall, as it came from the bench', '2031-03-01T10:00:00Z', {
      plunger: dial(3, 5),
      'nocking-point': number(9),
    }),
    setUp('softer', 'Softer plunger', '2031-04-05T11:00:00Z', {
      plunger: dial(2, 8),
      'nocking-point': number(9),
    }),
    setUp('raised', 'Nocking point raised', '2031-04-19T12:00:00Z', {
      plunger: dial(2, 8),
      'nocking-point': number(10.5),
      'brace-height': number(222),
    }),
  ];
  const sessions: Session[] = [];
  const ends: End[] = [];
  for (const [day, { date, distanceM, setUps: shot }] of DAYS.entries()) {
    const sessionId = `day-${day}`;
    sessions.push({
      id: sessionId,
      archerId: 'archer',
      bowId: 'bow',
      setUpId: shot[0],
      date: `${date}T10:00:00Z`,
      place: 'Heron meadow',
      setting: 'outdoor',
      wind: '',
      distanceM,
      face: 'wa80',
      notes: '',
    });
    for (let number = 0; number < 6; number++) {
      const setUpId = shot[Math.floor((number * shot.length) / 6)]!;
      const { sigma, offset } = SHOOTS[setUpId];
      const arrows = (['fletched', 'fletched', 'fletched', 'bare', 'bare'] as const).map(
        (kind, i): End['arrows'][number] => {
          const bare = kind === 'bare';
          const at = (axis: 0 | 1) =>
            distanceM * ((bare ? offset[axis] : 0.15) + sigma * (bare ? 1.2 : 1) * normal());
          const mm: [number, number] = [at(0), at(1)];
          const zone = Math.max(0, 10 - Math.floor(Math.hypot(...mm) / 40));
          return { id: `m${i}`, mm, spot: 0, kind, zone, inner: false };
        },
      );
      ends.push({
        id: `${sessionId}-${number}`,
        sessionId,
        setUpId,
        shotAt: `${date}T1${number < 3 ? 0 : 2}:${10 + (number % 3) * 15}:00Z`,
        arrows,
        missed: { fletched: uniform() < 0.04 ? 1 : 0, bare: 0 },
        photo: null,
        scoring: 'as-printed',
        setAside: false,
        notes: '',
      });
    }
  }
  const bow: Bow = {
    id: 'bow',
    archerId: 'archer',
    name: 'Outdoor bow',
    hand: 'right',
    adjusters: standardAdjusters(),
    notes: '',
  };
  return { bow, setUps, sessions, ends };
}
