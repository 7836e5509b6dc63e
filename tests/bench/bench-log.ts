import type { End, Session } from '../../src/tuning/record/session.ts';
import type { Adjuster, SetUp } from '../../src/tuning/bow/set-up.ts';
import { settingAt } from '../../src/tuning/bow/setting-amount.ts';
import type { Settings, VirtualArrow } from '../simulation/virtual-archer.ts';

/** What the virtual bows have. */
export const ADJUSTERS: Adjuster[] = [
  {
    id: 'plunger',
    part: 'plunger',
    name: 'Plunger',
    scale: { type: 'dial', positionsPerLine: 10, lines: 10 },
    higherIs: 'stiffer',
  },
  {
    id: 'nock',
    part: 'nocking-point',
    name: 'Nocking point',
    scale: { type: 'number', unit: 'mm', step: 0.5, min: 0, max: 20 },
  },
];

export function sessionOf(id: string, date: string, distanceM: number): Session {
  return {
    id,
    archerId: 'a',
    bowId: 'bow',
    setUpId: 'u0',
    date,
    place: '',
    setting: 'outdoor',
    wind: '',
    distanceM,
    face: 'wa80',
    notes: '',
  };
}

export function setUpOf(
  id: string,
  date: string,
  { clicks, nockMm }: Settings,
  preferredMrad: readonly [number, number],
): SetUp {
  return {
    id,
    bowId: 'bow',
    name: id,
    date,
    settings: { plunger: settingAt(ADJUSTERS[0]!, clicks), nock: settingAt(ADJUSTERS[1]!, nockMm) },
    preferredMrad: [...preferredMrad],
    notes: '',
  };
}

export function endOf(
  id: string,
  sessionId: string,
  shotAt: string,
  arrows: readonly VirtualArrow[],
): End {
  return {
    id,
    sessionId,
    setUpId: id.replace('e', 'u'),
    shotAt,
    arrows: arrows.map(({ mm, kind }, i) => ({
      id: `${id}-${i}`,
      mm: [mm[0], mm[1]],
      spot: 0,
      kind,
      zone: 0,
      inner: false,
    })),
    missed: { fletched: 0, bare: 0 },
    photo: null,
    scoring: 'as-printed',
    setAside: false,
    notes: '',
  };
}
