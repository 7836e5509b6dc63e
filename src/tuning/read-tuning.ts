import type { ArcherRecord } from '../groups/archer-record.ts';
import { massInDisc, type BivariateT } from '../groups/bivariate-t.ts';
import type { Groups, Offset } from '../groups/groups.ts';
import type { Hand } from '../request/request.ts';
import { advise, isWeak } from './advice/advise.ts';
import type { AxisLaw } from './response/axis-law.ts';
import { axisVerdict, DEAD_ZONE_MRAD, type AxisVerdict } from './advice/axis-verdict.ts';
import { CAUTIONS } from './bow/cautions.ts';
import { fletchedForm } from './advice/fletched-form.ts';
import { furtherArrows, type FurtherArrows } from './advice/further-arrows.ts';
import { plateRadiusMrad, type Plate } from './advice/plate.ts';
import type { LogReading } from './read-log.ts';
import { withStateOfTune } from './response/state-of-tune.ts';
import type { Tuning } from './advice/tuning.ts';

export interface TuningOptions {
  readonly hand: Hand;
  /** Without it there is no plate, no dead zone and no comparison with the record. */
  readonly distanceM?: number | undefined;
  /** Where this archer wants the bare shafts, mrad [right, up]. @default [0, 0] */
  readonly preferredMrad?: readonly [number, number] | undefined;
  readonly record?: ArcherRecord | undefined;
  /** @default PLATE, 270 mm at 30 m */
  readonly plate?: Plate | undefined;
  /** Offsets this close to the preferred one, each way, are as good as there. @default DEAD_ZONE_MRAD */
  readonly deadZoneMrad?: number | undefined;
  /** What the log of this bow says, this end included; it outweighs one end and the rule of thumb. */
  readonly log?: LogReading | undefined;
}

/** What the groups of one end say about the bow, how surely, and what to do about it. */
export function readTuning(groups: Groups, options: TuningOptions): Tuning {
  const form = fletchedForm(groups.fletched, options);
  const { offset } = groups;
  if (!offset) return withoutOffset(groups, form);

  const { distanceM, preferredMrad = [0, 0], hand } = options;
  // Without a distance nothing is known as an angle: millimetres then, with no dead zone.
  const unitMm = distanceM ?? 1;
  const deadZone = distanceM ? (options.deadZoneMrad ?? DEAD_ZONE_MRAD) : 0;
  const wanted = distanceM ? preferredMrad : ([0, 0] as const);
  const posterior = posteriorOf(offset);
  const log = distanceM ? options.log : undefined;
  const known = (axis: 0 | 1): AxisLaw | null => {
    if (log) return axis === 1 ? log.offsetMrad.vertical : log.offsetMrad.horizontal;
    if (!posterior) return null;
    const alone = {
      mean: posterior.centre[axis] / unitMm,
      scale: posterior.scale / unitMm,
      df: posterior.df,
    };
    return distanceM
      ? withStateOfTune(alone, wanted[axis], options.record ? undefined : perSpreadOf(groups))
      : { parts: [{ weight: 1, law: alone }] };
  };
  const [sideways, upright] = [known(0), known(1)];
  const vertical = upright ? axisVerdict(upright, { wanted: wanted[1], deadZone }) : UNKNOWN;
  const horizontal = sideways ? axisVerdict(sideways, { wanted: wanted[0], deadZone }) : UNKNOWN;
  const plate = distanceM ? plateOf(posterior, plateRadiusMrad(options.plate) * distanceM) : null;
  const more = moreArrows(groups, offset, {
    estimates: [
      ...(vertical.certainty === 'undecided' ? [offset.mm[1] / unitMm - wanted[1]] : []),
      ...(horizontal.certainty === 'undecided' ? [offset.mm[0] / unitMm - wanted[0]] : []),
    ],
    deadZone,
    unitMm,
  });
  const shootMore = more ? { fletched: more.fletched, bare: more.bare } : null;
  return {
    vertical: {
      direction: vertical.sign > 0 ? 'high' : vertical.sign < 0 ? 'low' : 'level',
      certainty: vertical.certainty,
      p: vertical.p,
      meaning: verticalMeaning(vertical),
    },
    horizontal: {
      direction: horizontal.sign > 0 ? 'right' : horizontal.sign < 0 ? 'left' : 'level',
      certainty: horizontal.certainty,
      p: horizontal.p,
      meaning: horizontalMeaning(horizontal, hand),
    },
    withinPlate: plate ? plate.p >= 0.5 : null,
    plate,
    fletchedForm: form,
    advice: advise({
      hand,
      vertical,
      horizontal,
      beyondPlate: beyondPlate(offset, plate),
      fletchedForm: form,
      shootMore,
      pSettles: more && offset.posterior ? more.probability : null,
      proposals: log?.proposals ?? [],
      leftToThumb: log?.leftToThumb ?? BY_THUMB,
    }),
    shootMore,
    summary: summaryOf(offset, { vertical, horizontal, hand, distanceM, preferredMrad }),
  };
}

/** Without a log all is. */
const BY_THUMB = { horizontal: 'all', vertical: 'all' } as const;

function posteriorOf(offset: Offset): BivariateT | null {
  const { posterior, mm } = offset;
  return posterior ? { centre: mm, scale: posterior.scaleMm, df: posterior.df } : null;
}

/** The offset's scale per axis over the spread of the fletched arrows. */
function perSpreadOf({ fletched, bare, offset }: Groups): number | undefined {
  const ratio = offset?.posterior?.bareRatio;
  if (!fletched || !bare || ratio === undefined) return undefined;
  return Math.sqrt(1 / fletched.n + ratio ** 2 / bare.n);
}

const UNKNOWN: AxisVerdict = { sign: 0, certainty: 'undecided', p: 0.5, worthAChange: false };

function verticalMeaning({ sign }: AxisVerdict): string {
  if (sign === 0) return 'as wanted';
  return sign > 0 ? 'nocking point low' : 'nocking point high';
}

function horizontalMeaning(verdict: AxisVerdict, hand: Hand): string {
  if (verdict.sign === 0) return 'as wanted';
  return isWeak(verdict, hand) ? 'weak' : 'stiff';
}

function plateOf(posterior: BivariateT | null, radiusMm: number): Tuning['plate'] {
  if (posterior === null) return null;
  return { radiusMm, p: massInDisc(posterior, { centre: [0, 0], radius: radiusMm }) };
}

/** Beyond the plate, the coordinate that takes it there needs the coarse tool. */
function beyondPlate(
  { mm }: Offset,
  plate: Tuning['plate'],
): { vertical: boolean; horizontal: boolean } {
  if (!plate || plate.p >= 0.5) return { vertical: false, horizontal: false };
  const [across, up] = [Math.abs(mm[0]), Math.abs(mm[1])];
  return {
    vertical: up > plate.radiusMm || up >= across,
    horizontal: across > plate.radiusMm || across > up,
  };
}

function moreArrows(
  groups: Groups,
  offset: Offset,
  {
    estimates,
    deadZone,
    unitMm,
  }: {
    readonly estimates: readonly number[];
    readonly deadZone: number;
    readonly unitMm: number;
  },
): FurtherArrows | null {
  if (!groups.fletched || !groups.bare) return null;
  // Two of each is the least that tells a spread at all.
  if (!offset.posterior) {
    const [f, b] = [groups.fletched.n, groups.bare.n];
    return { fletched: Math.max(1, 3 - f), bare: Math.max(1, 2 - b), probability: 1 };
  }
  if (estimates.length === 0) return null;
  return furtherArrows({
    fletched: groups.fletched.n,
    bare: groups.bare.n,
    estimates,
    deadZone,
    sigma: offset.posterior.sigmaMm / unitMm,
    df: offset.posterior.df,
    bareRatio: offset.posterior.bareRatio,
  });
}

interface Said {
  readonly vertical: AxisVerdict;
  readonly horizontal: AxisVerdict;
  readonly hand: Hand;
  readonly distanceM: number | undefined;
  readonly preferredMrad: readonly [number, number];
}

/** One or two sentences for a person. */
function summaryOf(offset: Offset, said: Said): string {
  const where = `${place(offset.mm)} of the fletched arrows${said.distanceM ? ` at ${said.distanceM} m` : ''}`;
  if (!offset.posterior) {
    return `The bare shafts are ${where}, but with so few arrows that may be chance: shoot more.`;
  }
  const { vertical, horizontal, hand } = said;
  const asked = said.preferredMrad.some((mrad) => mrad !== 0)
    ? ' (from your preferred offset)'
    : '';
  const open = [vertical, horizontal].filter((verdict) => verdict.certainty === 'undecided');
  if (open.length === 2) {
    return `The bare shafts are ${where}; beside the spread of these few arrows that may be chance, so nothing is decided${asked}.`;
  }
  if (vertical.sign === 0 && horizontal.sign === 0) {
    return `The bare shafts are ${where}: where you want them, as closely as these arrows can tell${asked}.`;
  }
  const upDown =
    vertical.certainty === 'undecided'
      ? 'up or down undecided'
      : vertical.sign === 0
        ? 'height as wanted'
        : `${verticalMeaning(vertical)} (${vertical.certainty})`;
  const leftRight =
    horizontal.certainty === 'undecided'
      ? 'left or right undecided'
      : horizontal.sign === 0
        ? 'sideways as wanted'
        : `${horizontalMeaning(horizontal, hand)} (${horizontal.certainty})`;
  return `The bare shafts are ${where}: ${upDown}, ${leftRight}${asked}.`;
}

function place(mm: readonly [number, number]): string {
  const up = `${Math.abs(Math.round(mm[1]))} mm ${mm[1] >= 0 ? 'above' : 'below'}`;
  const across = `${Math.abs(Math.round(mm[0]))} mm to the ${mm[0] >= 0 ? 'right' : 'left'}`;
  return `${up} and ${across}`;
}

function withoutOffset(groups: Groups, form: Tuning['fletchedForm']): Tuning {
  const fletched = Math.max(0, 3 - (groups.fletched?.n ?? 0));
  const bare = Math.max(0, 2 - (groups.bare?.n ?? 0));
  const unknown = {
    direction: 'level',
    certainty: 'undecided',
    p: 0.5,
    meaning: 'unknown',
  } as const;
  const missing = groups.bare ? 'fletched arrows' : groups.fletched ? 'bare shafts' : 'arrows';
  return {
    vertical: unknown,
    horizontal: unknown,
    withinPlate: null,
    plate: null,
    fletchedForm: form,
    advice: [
      {
        kind: 'shoot',
        adjuster: 'bare shafts',
        action: `Shoot ${fletched} fletched and ${bare} bare, or more, at one face with one aim.`,
        reason: 'The offset is between the two groups, so both are needed.',
        cautions: [CAUTIONS.bareShafts, CAUTIONS.carbon],
      },
    ],
    shootMore: { fletched, bare },
    summary: `There are no ${missing} in this end, so it says nothing about the bow yet.`,
  };
}
