import type { ArcherRecord } from '../groups/archer-record.ts';
import type { AxisLaw } from './response/axis-law.ts';
import type { Plate } from './advice/plate.ts';
import type { LeftToThumb, Proposal } from './advice/proposal.ts';
import { leftToThumb, proposeNext } from './advice/propose-next.ts';
import { responseEnds, amountsBySetUp } from './response/response-ends.ts';
import { presentLaw, responseModel } from './response/response-model.ts';
import type { BowLog } from './record/bow-log.ts';
import type { Bow } from './bow/set-up.ts';
import type { Axis } from './bow/parts.ts';

export interface LogReading {
  /** The bow's lasting offset at the present set-up, mrad. */
  readonly offsetMrad: Readonly<Record<Axis, AxisLaw>>;
  /** The next step, or none where leaving the bow alone is expected to be better. */
  readonly proposals: readonly Proposal[];
  readonly leftToThumb: Readonly<Record<Axis, LeftToThumb>>;
  /** Ends with both kinds of arrow that it rests on. */
  readonly ends: number;
}

/**
 * What a bow's log says of its offset at a set-up and of the next step. Null when the set-up is not
 * in the log or no end has both kinds of arrow: then one end and the rule of thumb must do.
 */
export function readLog(
  bow: Bow,
  log: BowLog,
  options: {
    readonly setUpId: string;
    readonly record?: ArcherRecord | undefined;
    /** @default the set-up's own */
    readonly preferredMrad?: readonly [number, number] | undefined;
    readonly deadZoneMrad?: number | undefined;
    readonly plate?: Plate | undefined;
    readonly distanceM?: number | undefined;
  },
): LogReading | null {
  const { setUpId, record } = options;
  const present = amountsBySetUp(bow, log.setUps).get(setUpId);
  const ends = responseEnds(bow, log);
  if (!present || ends.length === 0) return null;
  const preferredMrad =
    options.preferredMrad ?? log.setUps.find((setUp) => setUp.id === setUpId)?.preferredMrad;
  const model = responseModel(bow, ends, { present, preferredMrad, record });
  const next = { ...options, present, preferredMrad };
  return {
    offsetMrad: {
      horizontal: presentLaw(model.axes.horizontal),
      vertical: presentLaw(model.axes.vertical),
    },
    proposals: proposeNext(bow, model, next),
    leftToThumb: {
      horizontal: leftToThumb(bow, model, 'horizontal', next),
      vertical: leftToThumb(bow, model, 'vertical', next),
    },
    ends: ends.length,
  };
}
