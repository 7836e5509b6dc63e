import f from '@stdlib/stats-base-dists-f';
import chisquare from '@stdlib/stats-base-dists-chisquare';
import { groupsOf } from '../../src/groups/groups-of.ts';
import { scatterOf } from '../../src/groups/scatter.ts';
import {
  chance,
  shootEnd,
  type Chance,
  type VirtualArcher,
  type VirtualArrow,
} from '../simulation/virtual-archer.ts';
import { recordOf } from './record-of.ts';

const FLETCHED = 3;
const BARE = 2;

export interface PowerResult {
  readonly known: number;
  readonly pooled: number;
  readonly hotelling: number;
  /** Record of 100 fletched arrows, bare shafts known to be as wide: what the three above suppose. */
  readonly recordEqualSpread: number;
  /** Record of 60 fletched and 40 bare arrows; how wide the bare ones are is learned from them. */
  readonly record: number;
  /** Record of 100 fletched arrows only; how wide bare shafts are is the first guess. */
  readonly recordOfFletched: number;
}

/** The true offset, in spreads, that a known spread finds four times in five. */
export const FOUND_BY_KNOWN = 2.83;

/** How often a true offset is found at the 5 % level with 3 + 2 arrows; one of none, by mistake. */
export function powerBench({
  ends,
  seed,
  offsetSigmas = FOUND_BY_KNOWN,
}: {
  readonly ends: number;
  readonly seed: number;
  readonly offsetSigmas?: number;
}): PowerResult {
  const luck = chance(seed + 1);
  const found = {
    known: 0,
    pooled: 0,
    hotelling: 0,
    recordEqualSpread: 0,
    record: 0,
    recordOfFletched: 0,
  };
  const distanceM = 30;
  for (let i = 0; i < ends; i++) {
    const archer = plainArcher(luck, { distanceM, offsetSigmas });
    const arrows = shootEnd(
      archer,
      { driftMrad: [0, 0], sigmaMrad: archer.sigmaMrad },
      { settings: archer.start, fletched: FLETCHED, bare: BARE },
      luck,
    );
    const of = (kind: VirtualArrow['kind']) =>
      scatterOf(arrows.filter((arrow) => arrow.kind === kind).map((arrow) => arrow.mm));
    const [a, b] = [of('fletched'), of('bare')];
    const square = (b.mean[0] - a.mean[0]) ** 2 + (b.mean[1] - a.mean[1]) ** 2;
    const unit = 1 / FLETCHED + 1 / BARE;
    const known = (archer.sigmaMrad * distanceM) ** 2;
    if (square / unit / known > chisquare.quantile(0.95, 2)) found.known++;
    const pooled = (a.sumOfSquares + b.sumOfSquares) / 6;
    if (square / unit / pooled / 2 > f.quantile(0.95, 2, 6)) found.pooled++;
    const record = recordOf(archer, luck, { fletched: FLETCHED, bare: BARE });
    const groups = groupsOf(arrows, { distanceM, record });
    if (groups.offset!.hotelling!.p < 0.05) found.hotelling++;
    if (groups.offset!.pNone! < 0.05) found.record++;
    const guessed = recordOf(archer, luck, { fletched: 5, bare: 0 });
    if (groupsOf(arrows, { distanceM, record: guessed }).offset!.pNone! < 0.05) {
      found.recordOfFletched++;
    }
    const bareSpread = { ratio: 1, logSd: 1e-3 };
    if (groupsOf(arrows, { distanceM, record: guessed, bareSpread }).offset!.pNone! < 0.05) {
      found.recordEqualSpread++;
    }
  }
  return {
    known: found.known / ends,
    pooled: found.pooled / ends,
    hotelling: found.hotelling / ends,
    recordEqualSpread: found.recordEqualSpread / ends,
    record: found.record / ends,
    recordOfFletched: found.recordOfFletched / ends,
  };
}

/** Bare shafts no wider than fletched, steady form, and an offset some way. */
function plainArcher(
  luck: Chance,
  { distanceM, offsetSigmas }: { readonly distanceM: number; readonly offsetSigmas: number },
): VirtualArcher {
  const sigmaMrad = 0.8 * 5 ** luck.uniform();
  const angle = 2 * Math.PI * luck.uniform();
  return {
    bow: {
      hand: 'right',
      base: [
        offsetSigmas * sigmaMrad * Math.cos(angle),
        offsetSigmas * sigmaMrad * Math.sin(angle),
      ],
      perClick: [-0.35, 0],
      perMm: [0, -1.5],
      bend: 0,
    },
    sigmaMrad,
    bareRatio: 1,
    preferredMrad: [0, 0],
    distanceM,
    sessionMrad: 0,
    dayLogSd: 0,
    wildChance: 0,
    start: { clicks: 0, nockMm: 0 },
  };
}
