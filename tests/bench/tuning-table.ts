import { UsageError } from '../../server/cli/terminal/exit.ts';
import { POPULATIONS } from '../simulation/virtual-archer.ts';
import {
  POLICY_POPULATIONS,
  policyBench,
  type PolicyPopulationName,
  type PolicyResult,
} from './policy-bench.ts';
import { FOUND_BY_KNOWN, powerBench, type PowerResult } from './power-bench.ts';
import { tuningBench, type SureCalls, type TuningBench } from './tuning-bench.ts';

type PopulationName = keyof typeof POPULATIONS;

export interface TuningTableOptions {
  /** @default 20310301 */
  readonly seed?: string | undefined;
  /** Histories of each population. @default 2000 of outOfTune, 500 of the others, 400 of the obeyed */
  readonly histories?: string | undefined;
  /** @default every one */
  readonly population?: string | undefined;
}

const NAMES = Object.keys(POPULATIONS) as PopulationName[];
const OBEYED = Object.keys(POLICY_POPULATIONS) as PolicyPopulationName[];
/** Of a column: as wide as a share with its number gets. */
const WIDTH = 17;
const POWER_ENDS = 16000;
const STANDARD_ERROR = Math.sqrt((0.77 * 0.23) / POWER_ENDS);

/** Plays virtual tuning histories and prints one table: a line per figure, a column per population. */
export function tuningTable(options: TuningTableOptions): void {
  const seed = wholeNumber('seed', options.seed) ?? 20310301;
  const histories = wholeNumber('histories', options.histories);
  const { population } = options;
  const obeyed = OBEYED.filter((name) => population === undefined || name === population);
  const names =
    population === undefined ? NAMES : obeyed.length > 0 ? [] : [populationNamed(population)];
  const results = names.map((name) =>
    tuningBench({
      histories: histories ?? (name === 'outOfTune' ? 2000 : 500),
      seed,
      population: POPULATIONS[name],
    }),
  );
  const row = (label: string, asked: string, cells: readonly string[]) =>
    console.log(label.padEnd(52) + asked.padEnd(10) + cells.map((c) => c.padStart(WIDTH)).join(''));
  if (names.length > 0) {
    console.log(`Virtual tuning histories, seed ${seed}\n`);
    row('', 'asked for', names);
    for (const { label, asked, of } of LINES) row(label, asked, results.map(of));
  }
  if (obeyed.length > 0) {
    console.log(`\nBows of archers who obey every advice, no record, seed ${seed}\n`);
    const obedient = obeyed.map((name) =>
      policyBench(POLICY_POPULATIONS[name], { histories: histories ?? 400, seed }),
    );
    row('', '', obeyed);
    for (const { label, of } of OBEYED_LINES) row(label, '', obedient.map(of));
  }
  if (population !== undefined) return;

  const power = powerBench({ ends: POWER_ENDS, seed });
  const mistakes = powerBench({ ends: POWER_ENDS, seed, offsetSigmas: 0 });
  console.log(`\nAn offset found at the 5 % level with 3 + 2 arrows, ${POWER_ENDS} ends; standard error ${STANDARD_ERROR.toFixed(3)}\n`); // prettier-ignore
  row('', 'asked for', [`${FOUND_BY_KNOWN} sigma`, 'none']);
  for (const [label, asked, key] of POWER_LINES)
    row(label, asked, [power[key].toFixed(3), mistakes[key].toFixed(3)]);
}

function populationNamed(name: string): PopulationName {
  const found = NAMES.find((one) => one === name);
  if (found !== undefined) return found;
  throw new UsageError(`--population: One of ${[...NAMES, ...OBEYED].join(', ')}.`);
}

function wholeNumber(name: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^[1-9]\d{0,8}$/.test(text)) return Number(text);
  throw new UsageError(`--${name}: a whole number from 1, not "${text}".`);
}

interface Line {
  readonly label: string;
  readonly asked: string;
  readonly of: (result: TuningBench) => string;
}

const percent = (share: number) => (Number.isNaN(share) ? 'none' : `${(100 * share).toFixed(1)} %`);

/** A share of so many, with its standard error. */
const withError = (share: number, of: number) =>
  `${(100 * share).toFixed(1)} +- ${(100 * Math.sqrt((share * (1 - share)) / of)).toFixed(1)} %`;

/** A share with the number it is of: a share of few says little. */
const shareOf = (part: number, all: number) =>
  all === 0 ? 'none' : `${percent(part / all)} of ${all}`;

function sureLines(name: string, key: keyof TuningBench['sure'], asked: string): Line[] {
  const of = (pick: (calls: SureCalls) => string) => (result: TuningBench) =>
    pick(result.sure[key]);
  return [
    {
      label: `Sure of a direction, wrong side: ${name}`,
      asked,
      of: of((calls) => shareOf(calls.wrongSide, calls.directions)),
    },
    {
      label: '  within the dead zone, so of no use',
      asked: '',
      of: of((calls) => percent(calls.idle / calls.directions)),
    },
    {
      label: '  wrong side, of all verdicts',
      asked: '',
      of: of((calls) => `${(100 * (calls.wrongSide / calls.axes)).toFixed(2)} %`),
    },
    {
      label: '  sure that it is as wanted, and is not',
      asked: '',
      of: of((calls) => shareOf(calls.wrongLevel, calls.level)),
    },
  ];
}

const LINES: readonly Line[] = [
  { label: 'Histories', asked: '', of: ({ histories }) => `${histories}` },
  {
    label: '90 % regions that hold the offset',
    asked: '88-92 %',
    of: ({ coverage }) => percent(coverage.withoutRecord),
  },
  {
    label: '  with a record',
    asked: '88-92 %',
    of: ({ coverage }) => percent(coverage.withRecord),
  },
  ...sureLines('with the log', 'log', '<= 5 %'),
  ...sureLines('one end, no record', 'oneEnd', '<= 5 %'),
  ...sureLines('one end, record', 'oneEndWithRecord', '<= 5 %'),
  ...sureLines('first end', 'firstEnd', '<= 5 %'),
  {
    label: 'Ends until within 1 mrad, median: endwise',
    asked: '',
    of: ({ endsNeeded }) => endsNeeded.endwise.median.toFixed(1),
  },
  {
    label: '  fixed rule of two clicks',
    asked: '',
    of: ({ endsNeeded }) => endsNeeded.ruleOfThumb.median.toFixed(1),
  },
  { label: '  ratio', asked: '<= 60 %', of: ({ endsNeeded }) => percent(endsNeeded.ratio) },
  {
    label: '  never within 16 ends: endwise',
    asked: '',
    of: ({ endsNeeded }) => percent(endsNeeded.endwise.never),
  },
  {
    label: '  never within 16 ends: fixed rule',
    asked: '',
    of: ({ endsNeeded }) => percent(endsNeeded.ruleOfThumb.never),
  },
  {
    label: 'Further off after 10 ends than at first: endwise',
    asked: '<= 2 %',
    of: ({ wandering }) => `${(100 * wandering.endwise.worse).toFixed(2)} %`,
  },
  {
    label: '  and beyond 1 mrad',
    asked: '',
    of: ({ wandering }) => `${(100 * wandering.endwise.worseAndOut).toFixed(2)} %`,
  },
  {
    label: '  fixed rule',
    asked: '',
    of: ({ wandering }) => percent(wandering.ruleOfThumb.worse),
  },
  {
    label: 'Left after 16 ends, mrad: endwise',
    asked: '',
    of: ({ leftMrad }) => leftMrad.endwise.toFixed(2),
  },
  { label: '  fixed rule', asked: '', of: ({ leftMrad }) => leftMrad.ruleOfThumb.toFixed(2) },
];

const OBEYED_LINES: readonly {
  readonly label: string;
  readonly of: (result: PolicyResult) => string;
}[] = [
  { label: 'Histories', of: ({ histories }) => `${histories}` },
  {
    label: 'After ten ends more than 0.5 mrad further off',
    of: ({ worseByHalf, histories }) => withError(worseByHalf, histories),
  },
  {
    label: '  more than 1 mrad further off',
    of: ({ worseByOne, histories }) => withError(worseByOne, histories),
  },
  {
    label: 'Off after ten ends, rms mrad',
    of: ({ rmsAfterTen, rmsError }) => `${rmsAfterTen.toFixed(2)} +- ${rmsError.toFixed(2)}`,
  },
  {
    label: 'Ends until within 1 mrad, median',
    of: ({ medianEnds }) => (medianEnds === Infinity ? 'never' : `${medianEnds}`),
  },
  { label: '  never in the history', of: ({ never, histories }) => withError(never, histories) },
  { label: 'Changes in ten ends', of: ({ changes }) => changes.toFixed(1) },
  {
    label: '  of an axis that is called undecided',
    of: ({ undecidedChanges }) => percent(undecidedChanges),
  },
];

const POWER_LINES: readonly (readonly [label: string, asked: string, key: keyof PowerResult])[] = [
  ['Spread known', '0.80', 'known'],
  ['Pooled circular spread', '0.56', 'pooled'],
  ['Hotelling', '0.25', 'hotelling'],
  ['Record of 100 fletched, bare known to be as wide', '>= 0.76', 'recordEqualSpread'],
  ['Record of 60 fletched and 40 bare', '>= 0.76', 'record'],
  ['Record of 100 fletched only', '', 'recordOfFletched'],
];
