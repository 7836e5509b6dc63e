/**
 * Virtual archers with bows whose response is known. This stands apart from the inference it
 * tests: it shares no code with it, only plain data, and draws bows by its own rules.
 */

export interface Chance {
  /** Uniform in [0, 1). */
  readonly uniform: () => number;
  readonly normal: () => number;
}

/** SplitMix32 with the polar method for normal numbers. */
export function chance(seed: number): Chance {
  let state = seed >>> 0;
  let spare: number | null = null;
  const uniform = () => {
    state = (state + 0x9e3779b9) >>> 0;
    let t = state ^ (state >>> 16);
    t = Math.imul(t, 0x21f0aaad);
    t ^= t >>> 15;
    t = Math.imul(t, 0x735a2d97);
    return ((t ^ (t >>> 15)) >>> 0) / 2 ** 32;
  };
  const normal = () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const s = u * u + v * v;
      if (s <= 0 || s >= 1) continue;
      const f = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * f;
      return u * f;
    }
  };
  return { uniform, normal };
}

export interface VirtualBow {
  readonly hand: 'right' | 'left';
  /** Offset at plunger 0 and nocking point 0, mrad [right, up]. */
  readonly base: readonly [number, number];
  /** Offset per click (ten a line), and per mm of nocking point, mrad [right, up]. */
  readonly perClick: readonly [number, number];
  readonly perMm: readonly [number, number];
  /** Second order: how much a click's effect grows per click away from the middle. */
  readonly bend: number;
}

export interface VirtualArcher {
  readonly bow: VirtualBow;
  readonly sigmaMrad: number;
  /** Spread of bare shafts over fletched. */
  readonly bareRatio: number;
  readonly preferredMrad: readonly [number, number];
  readonly distanceM: number;
  /** Standard deviations of a session's own offset, and of the log of a session's spread. */
  readonly sessionMrad: number;
  readonly dayLogSd: number;
  /** Chance that one arrow of an end is a wild one. */
  readonly wildChance: number;
  /** Where the bow stands when the archer begins. */
  readonly start: Settings;
}

export interface Settings {
  readonly clicks: number;
  readonly nockMm: number;
}

export interface VirtualSession {
  readonly driftMrad: readonly [number, number];
  readonly sigmaMrad: number;
}

export interface VirtualArrow {
  readonly mm: readonly [number, number];
  readonly kind: 'fletched' | 'bare';
}

/** Which archers and bows there are; every field of a population differs from the usual on purpose. */
export interface Population {
  /** How far bows are from where they are wanted: per axis, and the least and most in all, mrad. */
  readonly away: { readonly sdMrad: number; readonly least: number; readonly most: number };
  /** Median effect of a click and of a mm, and standard deviation of the log of either. */
  readonly perClick: number;
  readonly perMm: number;
  readonly effectLogSd: number;
  readonly bendSd: number;
  readonly bareRatio: number;
  readonly bareRatioLogSd: number;
  readonly sessionMrad: number;
  readonly dayLogSd: number;
  readonly wildChance: number;
}

/** Bows that are off by 1.5 to 7 mrad from where they are wanted. */
export const OUT_OF_TUNE: Population = {
  away: { sdMrad: 2.5, least: 1.5, most: 7 },
  perClick: 0.35,
  perMm: 1.5,
  effectLogSd: 0.4,
  bendSd: 0.004,
  bareRatio: 1.2,
  bareRatioLogSd: 0.2,
  sessionMrad: 0.4,
  dayLogSd: 0.1,
  wildChance: 0.01,
};

export const POPULATIONS = {
  outOfTune: OUT_OF_TUNE,
  inTune: { ...OUT_OF_TUNE, away: { sdMrad: 0.5, least: 0, most: 7 } },
  slightlyOff: { ...OUT_OF_TUNE, away: { sdMrad: 1.2, least: 0, most: 7 } },
  justBuilt: { ...OUT_OF_TUNE, away: { sdMrad: 4, least: 2, most: 12 } },
  lively: { ...OUT_OF_TUNE, perClick: 0.6, perMm: 2.5 },
  dull: { ...OUT_OF_TUNE, perClick: 0.18, perMm: 0.8 },
  restless: { ...OUT_OF_TUNE, sessionMrad: 0.9, dayLogSd: 0.25, wildChance: 0.04 },
  bareAlike: { ...OUT_OF_TUNE, bareRatio: 1, bareRatioLogSd: 0.05 },
  bareWide: { ...OUT_OF_TUNE, bareRatio: 1.7, bareRatioLogSd: 0.2 },
} satisfies Record<string, Population>;

export function virtualArcher(
  { uniform, normal }: Chance,
  population: Population = OUT_OF_TUNE,
): VirtualArcher {
  const { away: farness, effectLogSd } = population;
  const hand = uniform() < 0.7 ? 'right' : 'left';
  const mirror = hand === 'right' ? 1 : -1;
  const preferred: readonly [number, number] =
    uniform() < 0.6 ? [0, 0] : [0.8 * normal(), 0.8 * normal()];
  let away: readonly [number, number];
  do away = [farness.sdMrad * normal(), farness.sdMrad * normal()];
  while (Math.hypot(...away) < farness.least || Math.hypot(...away) > farness.most);
  const perClick = [
    -mirror * population.perClick * Math.exp(effectLogSd * normal()),
    0.03 * normal(),
  ] as const;
  const perMm = [0.15 * normal(), -population.perMm * Math.exp(effectLogSd * normal())] as const;
  const start = {
    clicks: 30 + Math.floor(40 * uniform()),
    nockMm: 4 + Math.floor(13 * uniform()) / 2,
  };
  const bend = population.bendSd * normal();
  const atZero: VirtualBow = { hand, base: [0, 0], perClick, perMm, bend };
  const there = offsetOf(atZero, start);
  return {
    bow: {
      ...atZero,
      base: [preferred[0] + away[0] - there[0], preferred[1] + away[1] - there[1]],
    },
    sigmaMrad: 0.8 * 5 ** uniform(),
    bareRatio: population.bareRatio * Math.exp(population.bareRatioLogSd * normal()),
    preferredMrad: preferred,
    distanceM: [18, 30, 50][Math.floor(3 * uniform())]!,
    sessionMrad: population.sessionMrad,
    dayLogSd: population.dayLogSd,
    wildChance: population.wildChance,
    start,
  };
}

/** A bow's true lasting offset, mrad. */
export function offsetOf(bow: VirtualBow, { clicks, nockMm }: Settings): [number, number] {
  const bent = clicks * (1 + (bow.bend * (clicks - 50)) / 2);
  return [
    bow.base[0] + bow.perClick[0] * bent + bow.perMm[0] * nockMm,
    bow.base[1] + bow.perClick[1] * bent + bow.perMm[1] * nockMm,
  ];
}

export function virtualSession(archer: VirtualArcher, { normal }: Chance): VirtualSession {
  return {
    driftMrad: [archer.sessionMrad * normal(), archer.sessionMrad * normal()],
    sigmaMrad: archer.sigmaMrad * Math.exp(archer.dayLogSd * normal()),
  };
}

/** One end: both kinds about centres that differ by the bow's offset and the session's own. */
export function shootEnd(
  archer: VirtualArcher,
  session: VirtualSession,
  shot: { readonly settings: Settings; readonly fletched: number; readonly bare: number },
  { uniform, normal }: Chance,
): VirtualArrow[] {
  const offset = offsetOf(archer.bow, shot.settings);
  const aim = [0.7 * normal(), 0.7 * normal()];
  const arrow = (kind: VirtualArrow['kind']): VirtualArrow => {
    const bare = kind === 'bare';
    const wild = uniform() < archer.wildChance ? 4 : 1;
    const sd = session.sigmaMrad * (bare ? archer.bareRatio : 1) * wild;
    const at = (axis: 0 | 1) =>
      archer.distanceM *
      (aim[axis]! + (bare ? offset[axis] + session.driftMrad[axis] : 0) + sd * normal());
    return { mm: [at(0), at(1)], kind };
  };
  return [
    ...Array.from({ length: shot.fletched }, () => arrow('fletched')),
    ...Array.from({ length: shot.bare }, () => arrow('bare')),
  ];
}
