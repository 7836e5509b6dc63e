import type { SpotMm } from '../face/coordinates.ts';
import { matchPlaces, type Match } from './match-places.ts';
import { spread2, type Place } from './place.ts';

/** How the second photo's millimetres lie in the first's. */
export interface Overlay {
  readonly toFirst: (mm: SpotMm) => SpotMm;
  /** Turn of the second photo's "up" against the first's, degrees counter-clockwise. */
  readonly turnDeg: number;
  /** One-sigma uncertainty of the turn, radians. */
  readonly turnSd: number;
  readonly matches: readonly Match[];
}

/** "Up" is a guess on some faces: the two photos may differ by so much, degrees. */
const MOST_TURN_DEG = 50;
const TURN_STEP_DEG = 0.25;

/**
 * Lays two photos of one end upon each other by what both show: rings tell everything but the turn
 * about the centre, and that is found from arrows and holes, as near to what both photos say of "up"
 * as these allow.
 *
 * @param upSdDeg of both photos together
 */
export function layUpon(
  first: readonly Place[],
  second: readonly Place[],
  upSdDeg: number,
): Overlay {
  const priorSd = (Math.max(upSdDeg, 0.5) * Math.PI) / 180;
  let turn = likeliestTurn(first, second, priorSd);
  let turnSd = priorSd;
  let matches: Match[] = [];
  for (let pass = 0; pass < 3; pass++) {
    const toFirst = turned(turn);
    matches = matchPlaces(first, second, toFirst, turnSd);
    [turn, turnSd] = turnOf(matches, turn, priorSd);
  }
  const toFirst = turned(turn);
  return { toFirst, turnDeg: (turn * 180) / Math.PI, turnSd, matches };
}

function turned(angle: number): (mm: SpotMm) => SpotMm {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return ([x, y]) => [x * c - y * s, x * s + y * c];
}

/** The turn under which most of what the photos show lies upon each other. */
function likeliestTurn(first: readonly Place[], second: readonly Place[], priorSd: number): number {
  let best = 0;
  let most = -Infinity;
  const steps = MOST_TURN_DEG / TURN_STEP_DEG;
  for (let step = -steps; step <= steps; step++) {
    const turn = (step * TURN_STEP_DEG * Math.PI) / 180;
    const toFirst = turned(turn);
    // A photo's "up" is right within its error, or not at all.
    let score = -Math.log(1 + (turn / priorSd) ** 2);
    for (const place of second) {
      const at = toFirst(place.mm);
      let nearest = 0;
      for (const other of first) {
        if (other.spot !== place.spot) continue;
        const d2 = (other.mm[0] - at[0]) ** 2 + (other.mm[1] - at[1]) ** 2;
        const sd2 = spread2(other, place, TURN_STEP_DEG / 100);
        const weight = WEIGHT[other.what] * WEIGHT[place.what];
        nearest = Math.max(nearest, weight * Math.exp(-d2 / (2 * sd2)));
      }
      score += 2 * nearest;
    }
    if (score > most) [most, best] = [score, turn];
  }
  return best;
}

/** How much a place of its kind tells of the turn. */
const WEIGHT: Record<Place['what'], number> = { arrow: 1, hole: 0.8, perhaps: 0.4 };

/** The turn that brings matched places together, robustly, and its uncertainty. */
function turnOf(
  matches: readonly Match[],
  start: number,
  priorSd: number,
): [turn: number, sd: number] {
  let turn = start;
  let sd = priorSd;
  for (let pass = 0; pass < 4; pass++) {
    const ofPrior = 1 / (priorSd ** 2 + turn ** 2);
    let weight = ofPrior;
    let sum = -ofPrior * turn;
    for (const { first, second } of matches) {
      const [x, y] = turned(turn)(second.mm);
      const distance = Math.hypot(x, y);
      if (distance === 0) continue;
      const across = ((first.mm[1] - y) * x - (first.mm[0] - x) * y) / distance;
      const sd2 = spread2(first, second, 0);
      const own = distance ** 2 / sd2 / (1 + across ** 2 / (4 * sd2));
      weight += own;
      sum += (own * across) / distance;
    }
    turn += sum / weight;
    sd = 1 / Math.sqrt(weight);
  }
  return [turn, sd];
}
