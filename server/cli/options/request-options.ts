import type { Command } from 'commander';
import { SCORING_IDS } from '../../../src/face/scoring.ts';
import { readingRequestSchema, type ReadingRequest } from '../../../src/request/request.ts';
import { arrowNumbers } from '../../reading/arrow-numbers.ts';
import { issueSentence } from '../../reading/issue-sentence.ts';
import { markNumbers } from '../../reading/mark-numbers.ts';
import { UsageError } from '../terminal/exit.ts';

/** What a person says about an end on the command line, as it is typed. */
export interface RequestOptions {
  face?: string;
  shaft?: string;
  fletched?: string;
  bare?: string;
  hand?: string;
  distance?: string;
  /** Of one photo alone. */
  bareAt?: string;
  /** Of one photo alone. */
  arrowNumbers?: string;
  scoring?: string;
}

const OPTION_OF: Record<string, string> = {
  shaftMm: '--shaft',
  distanceM: '--distance',
  bareAt: '--bare-at',
  arrowNumbers: '--arrow-numbers',
};

export function addRequestOptions(command: Command): Command {
  return command
    .option('--face <id>', 'printed face, or auto (wa122, wa80, wa80-6, wa60, wa40, ...)')
    .option('--shaft <mm>', 'diameter of the shafts, mm')
    .option('--fletched <n>', 'fletched arrows shot in an end')
    .option('--bare <n>', 'bare shafts shot in an end')
    .option('--scoring <rule>', `how arrows are valued: ${SCORING_IDS.join(', ')}`)
    .option('--hand <hand>', 'right or left')
    .option('--distance <m>', 'shooting distance, m');
}

/** @throws UsageError */
export function requestOf(options: RequestOptions): ReadingRequest {
  const request = readingRequestSchema.safeParse({
    face: options.face,
    shaftMm: asNumber(options.shaft),
    fletched: asNumber(options.fletched),
    bare: asNumber(options.bare),
    hand: options.hand,
    distanceM: asNumber(options.distance),
    bareAt: options.bareAt === undefined ? undefined : markNumbers(options.bareAt),
    arrowNumbers:
      options.arrowNumbers === undefined ? undefined : arrowNumbers(options.arrowNumbers),
    scoring: options.scoring,
  });
  if (request.success) return request.data;
  const optionOf = (path: string, name: string) => OPTION_OF[name] ?? `--${path}`;
  throw new UsageError(issueSentence(request.error, optionOf));
}

/** Not a number stays so, for the schema to refuse. */
function asNumber(text: string | undefined): number | undefined {
  return text === undefined ? undefined : text.trim() === '' ? NaN : Number(text);
}
