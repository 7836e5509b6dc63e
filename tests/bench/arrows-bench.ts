import { compareArrows } from '../../src/trends/arrow-places.ts';
import { steadyWithinEnds } from '../../src/trends/within-ends.ts';
import { numberedShots, type NumberedShooting } from '../simulation/numbered-ends.ts';
import { chance } from '../simulation/virtual-archer.ts';

/** How shots are drawn: arrows of one archer, one spread wide. */
const USUAL = { sigma: 1, aimSd: 1.5 } as const;

const SETS = {
  '12 arrows, 6 an end': { arrows: 12, perEnd: 6 },
  '12 arrows, 12 an end': { arrows: 12, perEnd: 12 },
  '6 arrows, 6 an end': { arrows: 6, perEnd: 6 },
  '8 arrows, 3 an end': { arrows: 8, perEnd: 3 },
  'uneven: 1 and 2 soon gone, a fifth missing': {
    arrows: 12,
    perEnd: 6,
    until: { '1': 8, '2': 14 },
    missing: 0.2,
  },
  'one shot in twenty three times as wide': { arrows: 12, perEnd: 6, wild: 0.05 },
} as const satisfies Record<string, Partial<NumberedShooting>>;

export interface ArrowsMeasured {
  /** Share of runs in which an arrow was called apart that lies with the others. */
  readonly falseAlarm: number;
  /** Share of runs in which every arrow that is off was called apart. */
  readonly found: number;
  /** Share of 90 % intervals, of both axes, that hold the true place. */
  readonly held: number;
  /** Share of arrows called with the group that are farther off than a spread, and how many were. */
  readonly wronglyTogether: number;
  readonly together: number;
}

/** What is said of arrows whose true places are known. Places count from those that lie together. */
export function measureArrows(
  shooting: NumberedShooting,
  { runs, seed }: { readonly runs: number; readonly seed: number },
): ArrowsMeasured {
  const off = shooting.off ?? {};
  let [alarms, found, held, intervals, together, wrongly] = [0, 0, 0, 0, 0, 0];
  for (let run = 0; run < runs; run++) {
    const { arrows } = compareArrows(
      steadyWithinEnds(numberedShots(shooting, chance(7919 * seed + run))),
    );
    const isApart = (number: string) =>
      arrows.some(({ arrowNumber, verdict }) => arrowNumber === number && verdict === 'apart');
    const apart = arrows.filter(({ verdict }) => verdict === 'apart');
    alarms += apart.some(({ arrowNumber }) => !(arrowNumber in off)) ? 1 : 0;
    found += Object.keys(off).every(isApart) ? 1 : 0;
    // Where one that is off is taken for one of the others, the centre is that of them all.
    const isCentreTrue = Object.keys(off).every(isApart);
    for (const { arrowNumber, mrad, half90Mrad, verdict } of arrows) {
      const truth = off[arrowNumber] ?? [0, 0];
      if (verdict === 'with the group') {
        together++;
        if (Math.hypot(...truth) > shooting.sigma) wrongly++;
      }
      if (!isCentreTrue) continue;
      intervals += 2;
      held += mrad.filter((one, axis) => Math.abs(one - truth[axis]!) <= half90Mrad).length;
    }
  }
  return {
    falseAlarm: alarms / runs,
    found: found / runs,
    held: held / intervals,
    wronglyTogether: wrongly / Math.max(1, together),
    together: together / runs / shooting.arrows,
  };
}

/** How often the shots that were asked for settled an open arrow, and how many that were on average. */
export function measureForetold(
  shooting: NumberedShooting,
  { runs, seed }: { readonly runs: number; readonly seed: number },
): { settled: number; asked: number; more: number } {
  let [settled, asked, more] = [0, 0, 0];
  const perShot = shooting.arrows / shooting.perEnd;
  for (let run = 0; run < runs; run++) {
    const drawn = chance(104729 * seed + run);
    const first = numberedShots(shooting, drawn);
    const { arrows } = compareArrows(steadyWithinEnds(first));
    const open = arrows.filter((arrow) => arrow.moreShots !== null);
    const [one] = open.length === 0 ? [] : [open[run % open.length]!];
    if (!one) continue;
    const further = numberedShots(
      { ...shooting, ends: Math.ceil(one.moreShots! * perShot) },
      drawn,
    );
    const all = [...first, ...further.map((shot) => ({ ...shot, end: `further-${shot.end}` }))];
    const then = compareArrows(steadyWithinEnds(all)).arrows.find(
      ({ arrowNumber }) => arrowNumber === one.arrowNumber,
    )!;
    asked++;
    more += one.moreShots!;
    settled += then.verdict === 'open' ? 0 : 1;
  }
  return { settled: settled / asked, asked, more: more / asked };
}

/** Share of archers who ever see a false alarm when they look after each end from the tenth on. */
function measureLooks(runs: number, seed: number): number {
  let alarms = 0;
  for (let run = 0; run < runs; run++) {
    const shots = numberedShots({ ...USUAL, arrows: 12, perEnd: 6, ends: 60 }, chance(31 * seed + run)); // prettier-ignore
    const seen = Array.from({ length: 11 }, (_, i) => 10 + 5 * i).some((ends) => {
      const so = shots.filter(({ end }) => Number(end.slice(1)) < ends);
      return compareArrows(steadyWithinEnds(so)).arrows.some(({ verdict }) => verdict === 'apart');
    });
    alarms += seen ? 1 : 0;
  }
  return alarms / runs;
}

const percent = (x: number, width: number) => (100 * x).toFixed(1).padStart(width);

export function arrowsBench(options: { readonly runs?: number; readonly seed?: number }): void {
  const { runs = 1000, seed = 1 } = options;
  console.log(`Arrows by their numbers, ${runs} runs each, seed ${seed}; %`);
  console.log(
    'nobody is off                                ends  false alarm  90 % intervals held',
  );
  for (const [name, set] of Object.entries(SETS)) {
    for (const ends of [10, 30]) {
      const { falseAlarm, held } = measureArrows({ ...USUAL, ends, ...set }, { runs, seed });
      console.log(`${name.padEnd(44)} ${String(ends).padStart(4)} ${percent(falseAlarm, 12)} ${percent(held, 20)}`); // prettier-ignore
    }
  }
  console.log('');
  console.log('12 arrows, 6 an end: one is off, or two of them to one side');
  console.log('ends  off by, spreads    found  false alarm  intervals held   "with the group" though beyond a spread'); // prettier-ignore
  for (const ends of [10, 20, 40, 80]) {
    for (const by of [0.5, 1, 1.5, 2, 3]) {
      for (const off of [{ '5': [by, 0] }, { '5': [by, 0], '9': [by, 0] }] as const) {
        const measured = measureArrows(
          { ...USUAL, arrows: 12, perEnd: 6, ends, off },
          { runs: runs / 2, seed },
        );
        const held = Number.isNaN(measured.held) ? '-'.padStart(15) : percent(measured.held, 15);
        console.log(
          `${String(ends).padStart(4)}  ${by.toFixed(1)} ${Object.keys(off).length === 1 ? 'one' : 'two'}  ` +
            `${percent(measured.found, 15)} ${percent(measured.falseAlarm, 12)} ${held} ${percent(measured.wronglyTogether, 20)}`,
        );
      }
    }
  }
  console.log('');
  const places = { '5': [1, 0], '9': [0, 2] } as const;
  for (const ends of [10, 20]) {
    const { settled, asked, more } = measureForetold(
      { ...USUAL, arrows: 12, perEnd: 6, ends, off: places },
      { runs, seed },
    );
    console.log(
      `After ${ends} ends, "so many more to tell" (${more.toFixed(0)} on average) settled ${percent(settled, 1)} % of ${asked}`,
    );
  }
  console.log(
    `Who looks every five ends from the 10th to the 60th sees a false alarm at some time: ${percent(measureLooks(Math.ceil(runs / 4), seed), 1)} %`,
  );
}
