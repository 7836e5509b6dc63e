import type { SpotMm } from '../face/coordinates.ts';
import type { ArrowKind } from '../marks/mark.ts';
import type { ArcherRecord } from './archer-record.ts';
import { massAbove, massWithin, radiusHolding } from './bivariate-t.ts';
import { groupStatistics } from './group-statistics.ts';
import type { Groups, Offset } from './groups.ts';
import { hotelling } from './hotelling.ts';
import {
  BARE_SPREAD_AT_FIRST,
  offsetPosterior,
  spreadPrior,
  type BareSpread,
} from './offset-posterior.ts';
import { openRegion90 } from './offset-region.ts';
import { scatterOf, type Scatter } from './scatter.ts';

/**
 * How closely a mark is placed at best, per axis, mm: by a photo and by hand. Marks that lie closer
 * together than that are no sign of an archer who never misses.
 */
const PLACED_MM = 1;

export interface GroupsOptions {
  /** Shooting distance; without it nothing is known at angular scale and a record cannot be used. */
  readonly distanceM?: number | undefined;
  readonly record?: ArcherRecord | undefined;
  /** @default the record's, else BARE_SPREAD_AT_FIRST */
  readonly bareSpread?: BareSpread | undefined;
}

/**
 * Statistics of the fletched and the bare group of one end and the offset between them with its
 * uncertainty. Positions are mm from each arrow's own spot, x to the archer's right, y up; arrows
 * of unknown kind are left out. Empty groups are null, and so is the offset unless both exist.
 */
export function groupsOf(
  arrows: readonly { readonly mm: SpotMm; readonly kind: ArrowKind }[],
  options: GroupsOptions = {},
): Groups {
  const positions = (kind: ArrowKind) =>
    arrows.filter((arrow) => arrow.kind === kind).map((arrow) => arrow.mm);
  const fletched = positions('fletched');
  const bare = positions('bare');
  return {
    fletched: fletched.length > 0 ? groupStatistics(fletched) : null,
    bare: bare.length > 0 ? groupStatistics(bare) : null,
    offset: fletched.length > 0 && bare.length > 0 ? offsetOf(fletched, bare, options) : null,
  };
}

/** Scatter that is at least what the placing of the marks makes of arrows in one hole. */
function asPlaced(scatter: Scatter): Scatter {
  const placing = 2 * (scatter.n - 1) * PLACED_MM ** 2;
  return { ...scatter, sumOfSquares: Math.max(placing, scatter.sumOfSquares) };
}

function offsetOf(
  fletched: readonly SpotMm[],
  bare: readonly SpotMm[],
  { distanceM, record, bareSpread = record?.bareSpread }: GroupsOptions,
): Offset {
  const [f, b] = [scatterOf(fletched), scatterOf(bare)];
  const spread =
    record && distanceM
      ? (spreadPrior({ ...record, bareSpread }, distanceM) ?? undefined)
      : undefined;
  const [fAsPlaced, bAsPlaced] = [asPlaced(f), asPlaced(b)];
  const given = { spread, bareSpread: bareSpread ?? BARE_SPREAD_AT_FIRST };
  const posterior = offsetPosterior(fAsPlaced, bAsPlaced, given);
  const mm: [number, number] = [b.mean[0] - f.mean[0], b.mean[1] - f.mean[1]];
  const mrad: [number, number] | null = distanceM ? [mm[0] / distanceM, mm[1] / distanceM] : null;
  const test = hotelling(f, b);
  if (posterior === null) {
    return {
      mm,
      mrad,
      region90Mrad: null,
      probability: { high: 0.5, right: 0.5 },
      posterior: null,
      pNone: null,
      hotelling: test,
    };
  }
  const { offset, sigmaMm, bareRatio } = posterior;
  const open = bareSpread ? null : openRegion90(fAsPlaced, bAsPlaced, spread);
  const radius = distanceM ? (open ?? radiusHolding(offset, 0.9)) / distanceM : null;
  return {
    mm,
    mrad,
    region90Mrad:
      mrad && radius !== null ? { centre: mrad, semiAxes: [radius, radius], angleDeg: 0 } : null,
    probability: { high: massAbove(offset, 1, 0), right: massAbove(offset, 0, 0) },
    posterior: { scaleMm: offset.scale, df: offset.df, sigmaMm, bareRatio },
    pNone: 1 - massWithin(offset, Math.hypot(...mm)),
    hotelling: test,
  };
}
