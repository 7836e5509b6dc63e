import type { SpotMm } from '../../face/coordinates.ts';
import { outerRadiusMm } from '../../face/faces.ts';
import { flatToSpot } from '../../fit/flat/flatten.ts';
import type { HoleCandidate } from '../candidates/hole-candidate.ts';
import { withoutDoubles } from '../candidates/without-doubles.ts';
import type { Misfit } from '../flat-view/expected-face.ts';
import { middleOfMisfit } from '../flat-view/middle-of-misfit.ts';
import { numberAt, type NumberCell } from '../flat-view/number-rows.ts';
import type { SpotView } from '../flat-view/spot-view.ts';
import { spotsThatDiffer, type Blob } from './spots-that-differ.ts';

/** Weakest candidate handed on. */
const LEAST_PROBABILITY = 0.02;

/** What is known before the evidence of a place is looked at. */
export interface HolePrior {
  readonly logOdds: number;
  /** How much less likely a hole is where print stands. */
  readonly printedLogOdds: number;
}

/** A place on a face of which only this photo is known. */
const A_MARK: HolePrior = { logOdds: -12, printedLogOdds: 6.5 };
/** A place where something was not there before: print and dirt are out of the question. */
export const A_NEW_MARK: HolePrior = { logOdds: -9, printedLogOdds: 1.5 };

/** Darkness and openness, so weighted, at which fresh and old are equally likely. */
const FRESH_FROM = 7;

/**
 * Holes on a flat face without a trained network: what does not fit the expected face, all round a
 * disc about as wide as the shaft.
 */
export function handMadeHoles(view: SpotView, prior: HolePrior = A_MARK): HoleCandidate[] {
  const { flat, face, shaftMm, misfit, printed } = view;
  const candidates: HoleCandidate[] = [];
  for (const blob of spotsThatDiffer(flat, misfit, shaftMm)) {
    const onPrint = isPrinted(flatToSpot(flat, [blob.x, blob.y]), printed, shaftMm);
    const probability = holeProbability(blob, prior.logOdds - (onPrint ? prior.printedLogOdds : 0));
    if (probability < LEAST_PROBABILITY) continue;
    const middle = middleOfMisfit(misfit, [blob.x, blob.y], shaftMm / flat.mmPerPx);
    const mm = flatToSpot(flat, middle);
    if (Math.hypot(mm[0], mm[1]) > outerRadiusMm(face) + shaftMm / 2) continue;
    candidates.push({
      spot: flat.spot,
      mm,
      sdMm: Math.hypot(0.038 * shaftMm, 0.19 * flat.mmPerPx),
      probability,
      freshness:
        8 * blob.darkness + 6 * openness(misfit, middle, shaftMm / flat.mmPerPx) - FRESH_FROM,
    });
  }
  return withoutDoubles(candidates, shaftMm);
}

/** Whether a number, or the cross in the middle, is printed here. */
export function isPrinted(mm: SpotMm, cells: readonly NumberCell[], shaftMm: number): boolean {
  return Math.hypot(mm[0], mm[1]) < shaftMm / 2 || numberAt(cells, mm) !== undefined;
}

/** Logistic in the strength of the evidence; the weights weigh darkness and colour about alike. */
function holeProbability(blob: Blob, priorLogOdds: number): number {
  const logOdds =
    priorLogOdds +
    8.3 * Math.min(1, blob.darkness) +
    12.8 * Math.sqrt(blob.oddness / 100) +
    0.7 * Math.log(Math.max(1, blob.oddSnr)) +
    0.4 * Math.log(Math.max(1, blob.darkSnr));
  return 1 / (1 + Math.exp(-logOdds));
}

/** Share of the shaft's disc that is dark: fresh holes stand open, old ones close. */
function openness(misfit: Misfit, middle: readonly [number, number], shaftPx: number): number {
  const reach = shaftPx / 2;
  let open = 0;
  let all = 0;
  for (let y = Math.floor(middle[1] - reach); y <= middle[1] + reach; y++) {
    for (let x = Math.floor(middle[0] - reach); x <= middle[0] + reach; x++) {
      if (Math.hypot(x + 0.5 - middle[0], y + 0.5 - middle[1]) > reach) continue;
      const at = y * misfit.side + x;
      all++;
      if ((misfit.dark[at] ?? 0) > 0.5 * (misfit.level[at] ?? 0)) open++;
    }
  }
  return all === 0 ? 0 : open / all;
}
