import type { Words } from '../words/words.ts';
import type { ArcherRecord } from '../groups/archer-record.ts';
import type { AxisLaw } from './response/axis-law.ts';
import type { Plate } from './advice/plate.ts';
import type { LeftToThumb, Proposal } from './advice/proposal.ts';
import { leftToThumb, proposeNext } from './advice/propose-next.ts';
import { doubtedEntry, type DoubtedEntry } from './response/doubted-entry.ts';
import { responseEnds, amountsBySetUp } from './response/response-ends.ts';
import {
  presentLaw,
  responseModel,
  type ResponseModel,
  type ResponseOptions,
} from './response/response-model.ts';
import type { BowLog } from './record/bow-log.ts';
import type { Bow } from './bow/set-up.ts';
import type { Axis } from './bow/parts.ts';

/** What a bow's log says of its offset at a set-up. */
export interface LogOffset {
  /** The bow's lasting offset at the present set-up, mrad. */
  readonly offsetMrad: Readonly<Record<Axis, AxisLaw>>;
  /** Ends with both kinds of arrow that it rests on. */
  readonly ends: number;
}

export interface LogReading extends LogOffset {
  /** The next step, or none where leaving the bow alone is expected to be better. */
  readonly proposals: readonly Proposal[];
  readonly leftToThumb: Readonly<Record<Axis, LeftToThumb>>;
  /** The change that most likely was written down the wrong way round, where that was looked at. */
  readonly doubted?: DoubtedEntry | undefined;
}

export interface LogOptions {
  readonly setUpId: string;
  readonly record?: ArcherRecord | undefined;
  /** @default the set-up's own */
  readonly preferredMrad?: readonly [number, number] | undefined;
  readonly deadZoneMrad?: number | undefined;
  readonly plate?: Plate | undefined;
  readonly distanceM?: number | undefined;
  /** What reasons are said in. @default ENGLISH */
  readonly words?: Words | undefined;
}

/**
 * What a bow's log says of its offset at a set-up and of the next step. Null when the set-up is not
 * in the log or no end has both kinds of arrow: then one end and the rule of thumb must do.
 */
export function readLog(bow: Bow, log: BowLog, options: LogOptions): LogReading | null {
  const read = modelOf(bow, log, options);
  return read && readingOf(bow, read, options);
}

/** The same, and whether what was written down fits what the bow did. */
export function readLogWithDoubts(bow: Bow, log: BowLog, options: LogOptions): LogReading | null {
  const read = modelOf(bow, log, options);
  if (!read) return null;
  const doubted = doubtedEntry(bow, read.model, read.given);
  return { ...readingOf(bow, read, options), doubted: doubted ?? undefined };
}

/** The offset alone, where no step is asked for. */
export function offsetByLog(bow: Bow, log: BowLog, options: LogOptions): LogOffset | null {
  const read = modelOf(bow, log, options);
  return read && offsetOf(read.model);
}

interface ReadModel {
  readonly model: ResponseModel;
  readonly given: ResponseOptions;
}

function modelOf(bow: Bow, log: BowLog, options: LogOptions): ReadModel | null {
  const { setUpId, record } = options;
  const present = amountsBySetUp(bow, log.setUps).get(setUpId);
  const ends = responseEnds(bow, log, options.words);
  if (!present || ends.length === 0) return null;
  const preferredMrad =
    options.preferredMrad ?? log.setUps.find((setUp) => setUp.id === setUpId)?.preferredMrad;
  const given = { present, preferredMrad, record };
  return { model: responseModel(bow, ends, given), given };
}

function readingOf(bow: Bow, { model, given }: ReadModel, options: LogOptions): LogReading {
  const next = { ...options, ...given };
  return {
    ...offsetOf(model),
    proposals: proposeNext(bow, model, next),
    leftToThumb: {
      horizontal: leftToThumb(bow, model, 'horizontal', next),
      vertical: leftToThumb(bow, model, 'vertical', next),
    },
  };
}

function offsetOf({ axes, ends }: ResponseModel): LogOffset {
  return {
    offsetMrad: { horizontal: presentLaw(axes.horizontal), vertical: presentLaw(axes.vertical) },
    ends: ends.length,
  };
}
