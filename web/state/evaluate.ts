import type { Words } from '../../src/words/words.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { judgeMarks, type Judgement } from '../../src/reading/judge-marks.ts';
import type { Known } from '../../src/reading/judge-tuning.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { ASSUMED_SHAFT_MM } from '../../src/request/assumed-shaft.ts';
import type { PageMark } from './end-record.ts';
import { requestOf, type Settings } from './settings.ts';

/** Score, groups and tuning of an end's marks as they are corrected now, by the sizes it was read with. */
export function evaluate(
  { face, shaftMm }: Pick<Reading, 'face' | 'shaftMm'>,
  marks: readonly PageMark[],
  settings: Settings,
  known: Known,
  words?: Words,
): Judgement {
  const plain = marks.map(({ note, ...mark }): Mark =>
    note === undefined ? mark : { ...mark, note },
  );
  const shaft = shaftOf({ shaftMm }, settings);
  return judgeMarks({ face, marks: plain, request: requestOf(settings) }, shaft, known, words);
}

/** The diameter that an end was read with, else the one said, else a common one, mm. */
export function shaftOf(
  read: Pick<Reading, 'shaftMm'> | null,
  said: Pick<Settings, 'shaftMm'>,
): number {
  return read?.shaftMm ?? said.shaftMm ?? ASSUMED_SHAFT_MM;
}
