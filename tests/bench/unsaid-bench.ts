import type { FaceId } from '../../src/face/faces.ts';
import { usualDistancesM } from '../../src/face/usual-distances.ts';
import type { Mark } from '../../src/marks/mark.ts';
import { judgeTuning } from '../../src/reading/judge-tuning.ts';
import { withKinds } from '../../src/reading/with-kinds.ts';
import { chance } from '../simulation/virtual-archer.ts';

/** Bows by how far off they are per axis, mrad: in tune (within 0.3), slightly off, far. */
const POPULATIONS = { 'in tune': 0.2, 'slightly off': 1.5, far: 6 } as const;
const FACES: readonly FaceId[] = ['wa40', 'wa80', 'wa122'];

export interface UnsaidShares {
  /** Shares of ends. */
  readonly sure: number;
  readonly change: number;
  /** Of all directions, those called at least likely and rightly. */
  readonly rightly: number;
  /** Of all directions called at least likely, those on the wrong side of what is wanted. */
  readonly wrongSide: number;
}

export interface VirtualEnd {
  readonly face: FaceId;
  readonly distanceM: number;
  readonly marks: readonly Mark[];
  readonly offsetMrad: readonly [number, number];
}

/** What is said of an end: whether its distance, its tags, and with which hand it was shot. */
const SAID = {
  'all told': { distance: true, tags: true, hand: true },
  'hand unsaid': { distance: true, tags: true, hand: false },
  'distance unsaid': { distance: false, tags: true, hand: true },
  'tags guessed': { distance: true, tags: false, hand: true },
  both: { distance: false, tags: false, hand: true },
} as const;

/**
 * Ends of three fletched arrows and two bare shafts by archers of whom nothing is known, shot from
 * where the face is usually shot, judged with what was said of them.
 */
export function measureUnsaid(
  population: keyof typeof POPULATIONS,
  about: keyof typeof SAID,
  { ends, seed }: { readonly ends: number; readonly seed: number },
): UnsaidShares {
  let [sure, change, said, wrong] = [0, 0, 0, 0];
  for (let i = 0; i < ends; i++) {
    const { face, distanceM, marks, offsetMrad } = virtualEnd(population, 7919 * seed + i);
    const request = {
      ...(SAID[about].hand ? { hand: 'right' as const } : {}),
      preferredMrad: [0, 0] as [number, number],
      fletched: 3,
      bare: 2,
      distanceM: SAID[about].distance ? distanceM : undefined,
    };
    const untagged = marks.map((mark): Mark => ({ ...mark, kind: 'unknown' }));
    const asTagged = SAID[about].tags ? marks : withKinds(untagged, request);
    const { tuning } = judgeTuning({ face, marks: asTagged, request }, {});
    if (!tuning) continue;
    const axes = [
      [tuning.horizontal, offsetMrad[0]],
      [tuning.vertical, offsetMrad[1]],
    ] as const;
    const isSure = axes.some(([axis]) => axis.direction !== 'level' && axis.certainty === 'sure');
    sure += isSure ? 1 : 0;
    change += tuning.advice.some(({ kind }) => kind === 'adjust') ? 1 : 0;
    for (const [{ direction, certainty }, truth] of axes) {
      if (direction === 'level' || certainty === 'undecided') continue;
      said++;
      wrong += (direction === 'right' || direction === 'high') === truth > 0 ? 0 : 1;
    }
  }
  return {
    sure: sure / ends,
    change: change / ends,
    rightly: (said - wrong) / (2 * ends),
    wrongSide: said === 0 ? 0 : wrong / said,
  };
}

/** Shot from one of the distances from which its face is usually shot. */
export function virtualEnd(population: keyof typeof POPULATIONS, seed: number): VirtualEnd {
  const { uniform, normal } = chance(seed);
  const pick = <T>(from: readonly T[]) => from[Math.floor(uniform() * from.length)]!;
  const face = pick(FACES);
  const distanceM = pick(usualDistancesM(face));
  const sigmaMm = 2 * Math.exp(0.4 * normal()) * distanceM;
  const bareMm = sigmaMm * 1.2 * Math.exp(0.25 * normal());
  const tau = POPULATIONS[population];
  const offsetMrad = [tau * normal(), tau * normal()] as const;
  const aim = [distanceM * normal(), distanceM * normal()] as const;
  const marks = Array.from({ length: 5 }, (_, i): Mark => {
    const bare = i >= 3;
    const at = (axis: 0 | 1) =>
      aim[axis] + (bare ? offsetMrad[axis] * distanceM : 0) + (bare ? bareMm : sigmaMm) * normal();
    return {
      id: `m${i + 1}`,
      spot: 0,
      mm: [at(0), at(1)],
      px: null,
      sdMm: 0.4,
      state: 'hole',
      age: 'fresh',
      kind: bare ? 'bare' : 'fletched',
      kindFrom: 'person',
      confidence: 1,
    };
  });
  return { face, distanceM, marks, offsetMrad };
}

export function unsaidBench(options: { readonly ends?: number; readonly seed?: number }): void {
  const { ends = 2000, seed = 1 } = options;
  console.log(
    `${ends} ends of 3 fletched and 2 bare a population, seed ${seed}; shares of ends, %`,
  );
  console.log(
    'population     what is said       sure   change advised   called rightly   wrong side of those said',
  );
  for (const population of Object.keys(POPULATIONS) as (keyof typeof POPULATIONS)[]) {
    for (const about of Object.keys(SAID) as (keyof typeof SAID)[]) {
      const of = measureUnsaid(population, about, { ends, seed });
      const percent = (x: number, width: number) => (100 * x).toFixed(1).padStart(width);
      console.log(
        `${population.padEnd(14)} ${about.padEnd(16)} ${percent(of.sure, 6)} ${percent(of.change, 16)} ${percent(of.rightly, 16)} ${percent(of.wrongSide, 26)}`,
      );
    }
  }
}
