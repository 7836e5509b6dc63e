import { ENGLISH, type Words } from '../words/words.ts';
import { massInDisc, massWithin, radiusHolding, type BivariateT } from '../groups/bivariate-t.ts';
import student from '@stdlib/stats-base-dists-t';
import { CAUTIONS } from '../tuning/bow/cautions.ts';
import type { Bow } from '../tuning/bow/set-up.ts';
import { byArrowNumber } from '../request/arrow-number.ts';
import type { BowLog } from '../tuning/record/bow-log.ts';
import { sameArrows } from './arrow-set.ts';
import { stepDown } from './step-down.ts';
import { steadyWithinEnds, type Shot, type WithinEnds } from './within-ends.ts';

/** Where one arrow lands, beside the others of its ends. */
export interface ArrowPlace {
  /** As written on the shaft. */
  readonly arrowNumber: string;
  /** In ends with other numbered arrows of its kind: the others tell nothing. */
  readonly shots: number;
  /** From the centre of the others, right and up, whatever each end's aim was. */
  readonly mrad: readonly [number, number];
  /** Half-width of the 90 % interval of each of these. */
  readonly half90Mrad: number;
  /** That chance alone puts it so far off, with how many arrows are compared and how often one may look taken into account. */
  readonly pByChance: number;
  readonly verdict: 'apart' | 'with the group' | 'open';
  /** How many more shots of it would probably tell; null when told, or when too many would be needed. */
  readonly moreShots: number | null;
}

export interface ArrowPlaces {
  readonly kind: 'fletched' | 'bare';
  /** Ends with at least two numbered arrows of the kind, of the arrows that are shot now. */
  readonly ends: number;
  /** By number; empty below LEAST_ENDS. */
  readonly arrows: readonly ArrowPlace[];
  /** Spread of a single arrow per axis, the places of the arrows aside; null below LEAST_ENDS. */
  readonly sigmaMrad: number | null;
  /** Of the last of the ends; null without any. */
  readonly distanceM: number | null;
  readonly meaning: string;
  /** To be shown where an arrow lands apart. */
  readonly cautions: readonly string[];
}

/** Below so many ends nothing is said of single arrows. */
export const LEAST_ENDS = 10;
/** Chance of ever calling any arrow apart while all of a kind land together, however often somebody looks. */
export const FALSE_ALARM = 0.05;
/** What of it the first ends spend, and how soon what is left gets less with each doubling (by simulation). */
const SPENT_AT_FIRST = 0.5;
const SPENT_LESS = 1.5;
/** An arrow is with the group once it is known to land within so many spreads of it (own judgement). */
const TOGETHER_SPREADS = 1;
const TOLD = 0.9;
/** Foretold to settle it so often. */
const FORETOLD = 0.8;
const MORE_AT_MOST = 200;
/** A share of futures is wanted to a hundredth. */
const SLICES = 24;

/**
 * Arrow by arrow: where each number lands beside the others, fletched arrows and bare shafts apart.
 *
 * Places come from the ends (steadyWithinEnds), so that neither an end's aim nor which
 * arrows it had counts as an arrow's. An arrow lands apart when a round F test of its place against the
 * centre of the others says so by Holm's procedure: arrows share ends and so their errors, and Holm's
 * holds however tests hang together, needs no equal numbers of shots, and judges no arrow by a prior
 * of how arrows usually differ, which nobody has published. An arrow that is apart leaves the centre that the others are held against.
 * Whoever looks after every few ends has many chances to see a false alarm, so that the chance of one is
 * spent over the ends to come (alpha spending: Lan and DeMets, Biometrika 70, 1983, 659-663; from memory).
 */
export function arrowPlaces(
  bow: Bow,
  log: BowLog,
  words: Words = ENGLISH,
): readonly [ArrowPlaces, ArrowPlaces] {
  return [placesOf('fletched', bow, log, words), placesOf('bare', bow, log, words)];
}

interface NumberedEnd {
  readonly setUpId: string;
  readonly shotAt: string;
  readonly distanceM: number;
  readonly shots: readonly Shot[];
}

/** Ends of a kind with at least two numbered arrows, oldest first, all of the arrows shot last. */
function numberedEnds(kind: ArrowPlaces['kind'], bow: Bow, log: BowLog): NumberedEnd[] {
  const sessions = new Map(log.sessions.map((session) => [session.id, session]));
  const ends = log.ends.flatMap((end): NumberedEnd[] => {
    const session = sessions.get(end.sessionId);
    const distanceM = session?.bowId === bow.id ? session.distanceM : null;
    if (distanceM === null || end.setAside) return [];
    const own = end.arrows.filter((arrow) => arrow.kind === kind && arrow.arrowNumber);
    const counts = new Map<string, number>();
    for (const { arrowNumber } of own)
      counts.set(arrowNumber!, (counts.get(arrowNumber!) ?? 0) + 1);
    // A number that an end has twice is a slip of somebody's: nobody knows which of them it is.
    const shots = own
      .filter(({ arrowNumber }) => counts.get(arrowNumber!) === 1)
      .map(({ arrowNumber, mm }) => ({
        end: end.id,
        arrow: arrowNumber!,
        at: [mm[0] / distanceM, mm[1] / distanceM],
      }));
    const { setUpId, shotAt } = end;
    return shots.length < 2 ? [] : [{ setUpId, shotAt, distanceM, shots }];
  });
  ends.sort((a, b) => Date.parse(a.shotAt) - Date.parse(b.shotAt));
  const last = ends.at(-1);
  if (!last) return [];
  const same = sameArrows(bow, log.setUps, last.setUpId);
  return ends.filter(({ setUpId }) => same.has(setUpId));
}

function placesOf(kind: ArrowPlaces['kind'], bow: Bow, log: BowLog, words: Words): ArrowPlaces {
  const ends = numberedEnds(kind, bow, log);
  const distanceM = ends.at(-1)?.distanceM ?? null;
  const fit = steadyWithinEnds(ends.flatMap(({ shots }) => shots));
  if (ends.length < LEAST_ENDS || distanceM === null || fit.squares <= 0) {
    return {
      kind,
      ends: ends.length,
      arrows: [],
      sigmaMrad: null,
      distanceM,
      meaning: tooFewWords(kind, ends.length, words),
      cautions: [],
    };
  }
  const { arrows, unsorted } = compareArrows(fit);
  return {
    kind,
    ends: ends.length,
    arrows,
    sigmaMrad: Math.sqrt(fit.squares / (2 * fit.df)),
    distanceM,
    meaning: meaningOf(kind, { arrows, unsorted, parts: partsOf(fit), distanceM, words }),
    cautions: arrows.some(({ verdict }) => verdict === 'apart')
      ? [words.say(CAUTIONS.oddArrow)]
      : [],
  };
}

/** The places of arrows that can be compared, and parts of them that no centre is shared by. */
export function compareArrows(fit: WithinEnds): {
  readonly arrows: readonly ArrowPlace[];
  readonly unsorted: readonly (readonly string[])[];
} {
  const variance = fit.squares / (2 * fit.df);
  const level = spentAt(fit.ends);
  const sizes = new Map<number, number>();
  for (const part of fit.part) sizes.set(part, (sizes.get(part) ?? 0) + 1);
  const compared = [...fit.arrows.keys()].filter((i) => sizes.get(fit.part[i]!)! > 1);
  const place = (i: number, apart: ReadonlySet<number>): BivariateT => {
    const others = compared.filter((j) => j !== i && fit.part[j] === fit.part[i] && !apart.has(j));
    const all = others.reduce((sum, j) => sum + fit.shots[j]!, 0);
    const weights = fit.arrows.map((_, j) =>
      j === i ? 1 : others.includes(j) ? -fit.shots[j]! / all : 0,
    );
    const { mean, variance: of } = fit.contrast(weights);
    return { centre: [mean[0]!, mean[1]!], scale: Math.sqrt(of * variance), df: 2 * fit.df };
  };
  const apartOf = (found: ReadonlySet<number>) => new Set([...found].map((k) => compared[k]!));
  const { rejected, adjusted } = stepDown(
    compared.length,
    (found) => compared.map((i) => pByChance(place(i, apartOf(found)))),
    {
      level,
      // A centre is what more than half of the arrows share.
      mayReject: (next, found) => {
        const part = fit.part[compared[next]!]!;
        const gone = [...found].filter((k) => fit.part[compared[k]!] === part).length + 1;
        return 2 * gone < sizes.get(part)!;
      },
    },
  );
  const parts = [...new Set(compared.map((i) => fit.part[i]!))];
  const unsortedParts = parts.filter((part) =>
    compared.some((i, k) => fit.part[i] === part && !rejected.has(k) && adjusted[k]! <= level),
  );
  const isSorted = (i: number) => !unsortedParts.includes(fit.part[i]!);
  const apart = new Set([...apartOf(rejected)].filter(isSorted));
  const left = compared.length - apart.size;
  const arrows = compared.map((i, k): ArrowPlace => {
    const law = place(i, apart);
    const told = verdictOf(law, {
      isApart: apart.has(i),
      isSorted: isSorted(i),
      sigma: Math.sqrt(variance),
    });
    return {
      arrowNumber: fit.arrows[i]!,
      shots: fit.shots[i]!,
      mrad: [law.centre[0], law.centre[1]],
      half90Mrad: student.quantile((1 + TOLD) / 2, law.df) * law.scale,
      pByChance: Math.min(1, (adjusted[k]! * FALSE_ALARM) / level),
      verdict: told,
      moreShots:
        told === 'open' && isSorted(i)
          ? moreShots(law, {
              shots: fit.shots[i]!,
              ends: fit.ends,
              sigma: Math.sqrt(variance),
              left,
            })
          : null,
    };
  });
  return {
    arrows: arrows.sort((a, b) => byArrowNumber(a.arrowNumber, b.arrowNumber)),
    unsorted: unsortedParts.map((part) =>
      compared
        .filter((i) => fit.part[i] === part)
        .map((i) => fit.arrows[i]!)
        .sort(byArrowNumber),
    ),
  };
}

/** Level of the test at so many ends: less at each doubling, all of them together FALSE_ALARM. */
function spentAt(ends: number): number {
  const doublings = Math.log2(Math.max(ends, LEAST_ENDS) / LEAST_ENDS);
  return (SPENT_AT_FIRST * FALSE_ALARM) / (1 + doublings) ** SPENT_LESS;
}

/** That an arrow whose true place is the centre lands at least so far off: F(2, df) in closed form. */
function pByChance(law: BivariateT): number {
  return 1 - massWithin(law, Math.hypot(...law.centre));
}

function verdictOf(
  law: BivariateT,
  about: { readonly isApart: boolean; readonly isSorted: boolean; readonly sigma: number },
): ArrowPlace['verdict'] {
  if (about.isApart) return 'apart';
  const farthest = Math.hypot(...law.centre) + radiusHolding(law, TOLD);
  return about.isSorted && farthest <= TOGETHER_SPREADS * about.sigma ? 'with the group' : 'open';
}

/**
 * The fewest more shots of an arrow, in ends like those so far, after which it is probably called apart
 * or known to be with the group: what they will show is foretold by what is known now.
 * @param left arrows among which one more would be called apart
 */
function moreShots(
  law: BivariateT,
  about: {
    readonly shots: number;
    readonly ends: number;
    readonly sigma: number;
    readonly left: number;
  },
): number | null {
  const { shots, ends, sigma, left } = about;
  const settled = (more: number): number => {
    const share = shots / (shots + more);
    const then: BivariateT = {
      centre: [0, 0],
      scale: law.scale * Math.sqrt(share),
      df: law.df / share,
    };
    const foretold: BivariateT = { ...law, scale: law.scale * Math.sqrt(1 - share) };
    const within = (radius: number) =>
      radius <= 0 ? 0 : massInDisc(foretold, { centre: [0, 0], radius }, SLICES);
    const apartFrom = radiusHolding(then, 1 - spentAt(ends / share) / left);
    const togetherTo = TOGETHER_SPREADS * sigma - radiusHolding(then, TOLD);
    return togetherTo >= apartFrom ? 1 : 1 - within(apartFrom) + within(togetherTo);
  };
  if (settled(MORE_AT_MOST) < FORETOLD) return null;
  let [low, high] = [0, MORE_AT_MOST];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (settled(middle) >= FORETOLD) high = middle;
    else low = middle;
  }
  return high;
}

/** Arrows that never shared an end, over others neither: lists of two numbers and more. */
function partsOf({ arrows, part }: WithinEnds): string[][] {
  return [...new Set(part)].map((one) =>
    arrows.filter((_, i) => part[i] === one).sort(byArrowNumber),
  );
}

/** What is said of each kind, of one arrow and of several. */
const TEXTS = {
  fletched: {
    none: 'Number the arrows on the marks: from {least} ends on it shows where each one lands beside the others.',
    few: '{ends} of {least} ends with numbered arrows: then it shows where each one lands beside the others.',
    apart: 'Arrow {arrow} lands apart: {place} at {distance} from the centre of the others.',
    unsorted:
      'Arrows {arrows} do not land together, and no centre is shared by more than half of them: shoot them with others to tell which are off.',
  },
  bare: {
    none: 'Number the bare shafts on the marks: from {least} ends on it shows where each one lands beside the others.',
    few: '{ends} of {least} ends with numbered bare shafts: then it shows where each one lands beside the others.',
    apart: 'Bare shaft {arrow} lands apart: {place} at {distance} from the centre of the others.',
    unsorted:
      'Bare shafts {arrows} do not land together, and no centre is shared by more than half of them: shoot them with others to tell which are off.',
  },
} as const;

function tooFewWords(kind: ArrowPlaces['kind'], ends: number, { say }: Words): string {
  return ends === 0
    ? say(TEXTS[kind].none, { least: LEAST_ENDS })
    : say(TEXTS[kind].few, { ends, least: LEAST_ENDS });
}

function meaningOf(
  kind: ArrowPlaces['kind'],
  about: {
    readonly arrows: readonly ArrowPlace[];
    readonly unsorted: readonly (readonly string[])[];
    readonly parts: readonly (readonly string[])[];
    readonly distanceM: number;
    readonly words: Words;
  },
): string {
  const { arrows, unsorted, parts, distanceM, words } = about;
  const { say, metres } = words;
  const of = (verdict: ArrowPlace['verdict']) =>
    arrows.filter((arrow) => arrow.verdict === verdict);
  const [apart, together] = [of('apart'), of('with the group')];
  const open = of('open').filter(
    ({ arrowNumber }) => !unsorted.some((numbers) => numbers.includes(arrowNumber)),
  );
  return [
    ...apart.map((arrow) =>
      say(TEXTS[kind].apart, {
        arrow: arrow.arrowNumber,
        place: placeWords(arrow, distanceM, words),
        distance: metres(distanceM),
      }),
    ),
    ...unsorted.map((numbers) => say(TEXTS[kind].unsorted, { arrows: numbers.join(', ') })),
    ...(apart.length === 0 && unsorted.length === 0
      ? [say('None lands apart more than chance allows.')]
      : []),
    ...(together.length > 0
      ? [say('With the group: {arrows}.', { arrows: numbersOf(together) })]
      : []),
    ...(open.length > 0
      ? [say('Open: {arrows}.', { arrows: open.map((one) => openWords(one, words)).join(', ') })]
      : []),
    ...(parts.length > 1
      ? [
          say('Never shot together, so not compared: {arrows}. Mix them in an end.', {
            arrows: parts.map((numbers) => numbers.join(', ')).join(' / '),
          }),
        ]
      : []),
  ].join(' ');
}

function numbersOf(arrows: readonly ArrowPlace[]): string {
  return arrows.map(({ arrowNumber }) => arrowNumber).join(', ');
}

function openWords({ arrowNumber: arrow, moreShots: more }: ArrowPlace, { say }: Words): string {
  return more === null
    ? say('{arrow} (more than {most} to tell)', { arrow, most: MORE_AT_MOST })
    : say('{arrow} ({more} more to tell)', { arrow, more });
}

/** Where an arrow lands, at a distance: '63 mm left, 9 mm low'. */
export function placeWords(
  { mrad }: Pick<ArrowPlace, 'mrad'>,
  distanceM: number,
  { say, mm }: Words = ENGLISH,
): string {
  const [right, up] = mrad.map((one) => one * distanceM) as [number, number];
  const side = say(right < 0 ? '{size} left' : '{size} right', { size: mm(Math.abs(right)) });
  const height = say(up < 0 ? '{size} low' : '{size} high', { size: mm(Math.abs(up)) });
  return `${side}, ${height}`;
}
