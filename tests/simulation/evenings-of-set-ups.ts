import { QUIET, RING_MM, type Evening } from './kept-evenings.ts';
import type { Chance } from './virtual-archer.ts';

/** How evenings of one archer differ from each other, beside what a set-up always does. */
export interface Restlessness {
  /** Standard deviation of the log of an evening's spread, and of where the sight stands, mrad. */
  readonly formLogSd: number;
  readonly sightMrad: number;
  /** The same of what one set-up does on one evening. */
  readonly ofSetUp: { readonly formLogSd: number; readonly sightMrad: number };
  /** Of an end's aim per axis, mrad. */
  readonly aimMrad: number;
}

const NONE = { formLogSd: 0, sightMrad: 0 };

/** Whose evenings: of archers as they come, or of a sort that an evening's ends do not tell. */
export const ARCHERS = {
  'of every sort': (luck) => {
    const any = (median: number, logSd: number, most: number) =>
      Math.min(most, median * Math.exp(logSd * luck.normal()));
    return {
      formLogSd: any(0.17, 1, 0.8),
      sightMrad: any(0.3, 0.8, 2),
      ofSetUp:
        luck.uniform() < 0.4
          ? NONE
          : { formLogSd: any(0.05, 0.8, 0.8), sightMrad: any(0.2, 0.8, 2) },
      aimMrad: any(0.5, 0.6, 2),
    };
  },
  steady: () => ({ formLogSd: 0.05, sightMrad: 0, ofSetUp: NONE, aimMrad: 0.3 }),
  'restless, set-ups alike': () => ({
    formLogSd: 0.25,
    sightMrad: 0.5,
    ofSetUp: NONE,
    aimMrad: 1,
  }),
  'restless with set-ups too': () => ({
    formLogSd: 0.25,
    sightMrad: 0.5,
    ofSetUp: { formLogSd: 0.1, sightMrad: 0.4 },
    aimMrad: 1,
  }),
} as const satisfies Record<string, (luck: Chance) => Restlessness>;

/** How two set-ups are shot against each other. */
export interface Design {
  readonly paired: boolean;
  readonly evenings: number;
  /** Ends of six arrows with each set-up on an evening. */
  readonly ends: number;
}

export const DESIGNS = {
  'four evenings, both': { paired: true, evenings: 4, ends: 4 },
  'four evenings each': { paired: false, evenings: 4, ends: 6 },
  'one evening, both': { paired: true, evenings: 1, ends: 10 },
  'one evening each': { paired: false, evenings: 1, ends: 10 },
} as const satisfies Record<string, Design>;

const DISTANCE_M = 30;
/** Forms that are averaged over. */
const LEVELS = 24;

/** Evenings of two set-ups, `first` and `second`, of such spreads on an evening like most. */
export function eveningsOf(
  { paired, evenings, ends }: Design,
  sigmaMrad: Readonly<Record<string, number>>,
  restless: Restlessness,
  luck: Chance,
): Evening[] {
  const { normal } = luck;
  const nights: Evening[] = [];
  const night = (sessionId: string, setUps: readonly string[]) => {
    const form = Math.exp(restless.formLogSd * normal());
    const sight = [restless.sightMrad * normal(), restless.sightMrad * normal()] as const;
    for (const setUpId of setUps) {
      const own = restless.ofSetUp;
      nights.push({
        ...QUIET,
        sessionId,
        setUpId,
        ends,
        fletched: 6,
        bare: 0,
        distanceM: DISTANCE_M,
        sigmaMrad: sigmaMrad[setUpId]! * form * Math.exp(own.formLogSd * normal()),
        aimMrad: restless.aimMrad,
        sightMrad: [sight[0] + own.sightMrad * normal(), sight[1] + own.sightMrad * normal()],
      });
    }
  };
  for (let i = 0; i < evenings; i++) {
    const setUps = Object.keys(sigmaMrad);
    if (paired) night(`s${i}`, setUps);
    else for (const setUp of setUps) night(`${setUp} ${i}`, [setUp]);
  }
  return nights;
}

/** Points an arrow that a spread is worth over many evenings of such an archer. */
export function worth(
  sigmaMrad: number,
  { formLogSd, sightMrad, ofSetUp, aimMrad }: Restlessness,
): number {
  const logSd = Math.hypot(formLogSd, ofSetUp.formLogSd);
  let [sum, weights] = [0, 0];
  for (let i = 0; i < LEVELS; i++) {
    const z = (8 * (i + 0.5)) / LEVELS - 4;
    const weight = Math.exp(-(z ** 2) / 2);
    const sd =
      DISTANCE_M *
      Math.hypot(sigmaMrad * Math.exp(logSd * z), sightMrad, ofSetUp.sightMrad, aimMrad);
    weights += weight;
    // As many points as rings that it lies within; how far out it lies follows Rayleigh's law.
    for (let ring = 1; ring <= 10; ring++)
      sum += weight * (1 - Math.exp(-((RING_MM * ring) ** 2) / (2 * sd ** 2)));
  }
  return sum / weights;
}
