import type { SpotMm } from '../face/coordinates.ts';
import { outerRadiusMm } from '../face/faces.ts';
import { flatToSpot, spotToFlat } from '../fit/flat/flatten.ts';
import { isPrinted } from './hand-made/hand-made-holes.ts';
import { middleOfMisfit } from './flat-view/middle-of-misfit.ts';
import { numberAt, type NumberCell } from './flat-view/number-rows.ts';
import type { SpotView } from './flat-view/spot-view.ts';
import type { HoleCandidate } from './candidates/hole-candidate.ts';
import type { EvidenceMaps } from './network/evidence-maps.ts';
import { peaksOf } from './network/peaks-of.ts';
import { withoutDoubles } from './candidates/without-doubles.ts';

/** Weakest heat of a hole that is looked at. */
const LEAST_HEAT = 0.08;
/**
 * Weights of the evidence in log-odds: a logistic fit to peaks on photos that tests/rendering drew.
 * Against a place speak a ring number there, the more the more the same number in other rows looks
 * like a hole too, and, far more, the cross in the middle.
 */
const WEIGHT = {
  constant: 4.4,
  heat: 3,
  handMade: 0.7,
  number: 3.3,
  sameNumber: 0.58,
  middle: 8.2,
} as const;
/** Log-odds of a hole that the network gives to numbers on such photos, on average. */
const USUAL_NUMBER = -1.55;
/** What is printed within so many shafts of a spot's centre is the cross. */
const MIDDLE_SHAFTS = 1.2;
/** The network's log-odds of a fresh hole, made as bold as they turn out on such photos. */
const FRESHNESS = 1.15;
/** Hand-made log-odds beyond these say no more. */
const HAND_MADE = { least: -4, most: 4 } as const;
/** Position errors grow with the shaft, since ragged holes do; one sigma per axis, in shafts. */
const RAGGED_SHAFTS = 0.038;

/**
 * Holes where the network's map of hole centres has a peak, weighed together with the hand-made
 * evidence of the same place and with what is printed there. The peak and the middle of what does
 * not fit the face place a hole independently: their mean is better than either.
 *
 * @param handMade The hand-made evidence of the same view.
 */
export function holesFromMaps(
  view: SpotView,
  maps: EvidenceMaps,
  handMade: readonly HoleCandidate[],
): HoleCandidate[] {
  const { flat, face, misfit, shaftMm } = view;
  const shaftPx = shaftMm / flat.mmPerPx;
  const candidates = peaksOf(maps.hole, maps, LEAST_HEAT).flatMap((peak): HoleCandidate[] => {
    const [x, y] = peak.px;
    const middle = middleOfMisfit(misfit, peak.px, shaftPx);
    const apartPx = Math.hypot(middle[0] - x, middle[1] - y);
    const share = apartPx < 0.35 * shaftPx ? 0.5 : 0;
    const px = [x + share * (middle[0] - x), y + share * (middle[1] - y)] as const;
    const mm = flatToSpot(flat, px);
    if (Math.hypot(mm[0], mm[1]) > outerRadiusMm(face) + shaftMm / 2) return [];
    const same = handMade.filter(
      (hole) => Math.hypot(hole.mm[0] - mm[0], hole.mm[1] - mm[1]) < 0.5 * shaftMm,
    );
    const handMadeOdds = Math.max(HAND_MADE.least, ...same.map((hole) => logit(hole.probability)));
    const cell = Math.floor(y / maps.pxPerCell) * maps.width + Math.floor(x / maps.pxPerCell);
    const odds =
      WEIGHT.constant +
      WEIGHT.heat * logit(peak.height) +
      WEIGHT.handMade * Math.min(HAND_MADE.most, handMadeOdds) -
      printAgainst(flatToSpot(flat, peak.px), view, maps);
    return [
      {
        spot: flat.spot,
        mm,
        sdMm: Math.hypot(
          RAGGED_SHAFTS * shaftMm,
          0.19 * flat.mmPerPx,
          0.22 * apartPx * flat.mmPerPx,
        ),
        probability: 1 / (1 + Math.exp(-odds)),
        freshness: FRESHNESS * logit(maps.fresh[cell]!),
      },
    ];
  });
  return withoutDoubles(candidates, shaftMm);
}

/** How much speaks against a hole where something is printed, log-odds. */
function printAgainst(mm: SpotMm, view: SpotView, maps: EvidenceMaps): number {
  const { printed, shaftMm } = view;
  if (!isPrinted(mm, printed, shaftMm)) return 0;
  const number = numberAt(printed, mm);
  if (!number || Math.hypot(mm[0], mm[1]) < MIDDLE_SHAFTS * shaftMm) return WEIGHT.middle;
  const others = printed
    .filter((cell) => cell.zone === number.zone && cell !== number)
    .map((cell) => logit(Math.max(LEAST_HEAT, hottest(cell, view, maps))))
    .sort((a, b) => a - b);
  const usual = others[others.length >> 1] ?? USUAL_NUMBER;
  return WEIGHT.number + WEIGHT.sameNumber * (usual - USUAL_NUMBER);
}

/** Strongest heat of a hole within a number's cell. */
function hottest({ mm, halfMm }: NumberCell, { flat }: SpotView, maps: EvidenceMaps): number {
  const cellAt = (x: number, y: number): [number, number] => {
    const px = spotToFlat(flat, [x, y]);
    return [Math.floor(px[0] / maps.pxPerCell), Math.floor(px[1] / maps.pxPerCell)];
  };
  const [left, top] = cellAt(mm[0] - halfMm, mm[1] + halfMm);
  const [right, bottom] = cellAt(mm[0] + halfMm, mm[1] - halfMm);
  let most = 0;
  for (let row = Math.max(0, top); row <= Math.min(bottom, maps.height - 1); row++) {
    for (let column = Math.max(0, left); column <= Math.min(right, maps.width - 1); column++) {
      most = Math.max(most, maps.hole[row * maps.width + column]!);
    }
  }
  return most;
}

function logit(p: number): number {
  const inside = Math.min(1 - 1e-4, Math.max(1e-4, p));
  return Math.log(inside / (1 - inside));
}
