import type { Log } from '../../../server/log/log.ts';
import {
  archerSchema,
  endSchema,
  sessionSchema,
  type End,
} from '../../../src/tuning/record/session.ts';
import { bowSchema, setUpSchema } from '../../../src/tuning/bow/set-up.ts';
import { standardAdjusters } from '../../../src/tuning/bow/standard-adjusters.ts';

/** Two invented archers of one club evening, each with a bow, a set-up and a session. */
export const ARCHERS = ['ilka', 'tomas'] as const;

export const NAMES = { ilka: 'Ilka Brandt', tomas: 'Tomás Ferro', edda: 'Edda Holm' } as const;
export type SampleArcher = keyof typeof NAMES;

/** @param archers each with a bow, a set-up and a session of their own */
export async function fillSample(
  log: Log,
  archers: readonly SampleArcher[] = ARCHERS,
): Promise<void> {
  for (const id of archers) {
    await log.putArcher(archerSchema.parse({ id, name: NAMES[id], hand: 'right' }));
    await log.putBow(
      bowSchema.parse({
        id: `${id}-bow`,
        archerId: id,
        name: 'Outdoor bow',
        hand: 'right',
        adjusters: standardAdjusters(),
      }),
    );
    await log.putSetUp(sampleSetUp(id));
    await log.putSession(
      sessionSchema.parse({
        id: `${id}-evening`,
        archerId: id,
        bowId: `${id}-bow`,
        setUpId: `${id}-first`,
        date: '2031-05-04T18:00:00+02:00',
        place: 'Heron meadow',
        setting: 'outdoor',
        distanceM: 30,
        face: 'wa80',
      }),
    );
  }
}

export function sampleSetUp(archer: string, id = `${archer}-first`) {
  return setUpSchema.parse({
    id,
    bowId: `${archer}-bow`,
    name: 'First',
    date: '2031-05-01T10:00:00+02:00',
    settings: {},
    preferredMrad: [0.5, -1],
  });
}

export function sampleEnd(archer: string, number: number, more: Partial<End> = {}): End {
  return endSchema.parse({
    id: `${archer}-end-${number}`,
    sessionId: `${archer}-evening`,
    setUpId: `${archer}-first`,
    shotAt: `2031-05-04T18:${String(number % 60).padStart(2, '0')}:00+02:00`,
    arrows: [
      { id: 'm1', mm: [-31.8, 12.4], sdMm: 0.4, kind: 'fletched', zone: 10 },
      { id: 'm2', mm: [0.1, -20], kind: 'fletched', zone: 10, inner: true },
      { id: 'm3', mm: [40, 55.1], kind: 'bare', zone: 9 },
    ],
    missed: { fletched: 1, bare: 0 },
    ...more,
  });
}
