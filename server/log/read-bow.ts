import type { ArcherRecord } from '../../src/groups/archer-record.ts';
import { arrowPlaces } from '../../src/trends/arrow-places.ts';
import { learnRecord } from '../../src/trends/learn-record.ts';
import { spreadAgainstDistance } from '../../src/trends/spread-against-distance.ts';
import { timeline } from '../../src/trends/timeline.ts';
import { isMeasured, scoredEnds, withoutDistanceWords } from '../../src/trends/trend-ends.ts';
import { walkBack } from '../../src/trends/walk-back.ts';
import { readLog, type LogReading } from '../../src/tuning/read-log.ts';
import type { LogOfBow } from './log.ts';
import { LogError } from './log-error.ts';

export interface ReadBowOptions {
  /** @default the set-up of the last end, else the newest */
  readonly setUpId?: string | undefined;
  /** Distance of the next end. @default that of the last session */
  readonly distanceM?: number | undefined;
}

/** What a bow's log says: the archer's record, the bow's response, trends over distance and time. */
export interface BowReading {
  readonly setUpId: string | null;
  readonly record: ArcherRecord | null;
  readonly response: LogReading | null;
  readonly spread: ReturnType<typeof spreadAgainstDistance>;
  readonly timeline: ReturnType<typeof timeline>;
  readonly walkBack: ReturnType<typeof walkBack>;
  /** Where each numbered arrow lands, fletched arrows and bare shafts. */
  readonly arrows: ReturnType<typeof arrowPlaces>;
  /** Says how many ends have no distance; null when all have one. */
  readonly withoutDistance: string | null;
}

/** @throws LogError when there is no such set-up */
export function readBow(bowLog: LogOfBow, options: ReadBowOptions = {}): BowReading {
  const { bow, setUps, sessions, ends } = bowLog;
  const { setUpId } = options;
  if (setUpId !== undefined && !setUps.some((setUp) => setUp.id === setUpId)) {
    throw new LogError('unknown-set-up', `The bow has no set-up "${setUpId}".`);
  }
  const present = setUpId ?? ends.at(-1)?.setUpId ?? setUps.at(-1)?.id ?? null;
  const scored = scoredEnds(bowLog);
  const trend = scored.filter(isMeasured);
  const at = ends.at(-1)?.shotAt ?? new Date().toISOString();
  const record = learnRecord(trend, { at });
  const distanceM = options.distanceM ?? sessions.at(-1)?.distanceM ?? undefined;
  return {
    setUpId: present,
    record,
    response:
      present === null
        ? null
        : readLog(bow, bowLog, { setUpId: present, record: record ?? undefined, distanceM }),
    spread: spreadAgainstDistance(trend),
    timeline: timeline(scored),
    walkBack: walkBack(trend),
    arrows: arrowPlaces(bow, bowLog),
    withoutDistance: withoutDistanceWords(scored),
  };
}
