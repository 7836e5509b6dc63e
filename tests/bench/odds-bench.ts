import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { decodePhoto } from '../../server/decode/decode-photo.ts';
import { photoBytes } from '../../server/decode/read-photo-file.ts';
import { loadNetworks } from '../../server/reading/load-networks.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import { viewSpot } from '../../src/marks/flat-view/spot-view.ts';
import { closerLook } from '../../src/marks/find-marks.ts';
import type { Networks } from '../../src/marks/network/networks.ts';
import { termsSeenClosely, WEIGHTS_SEEN_CLOSELY } from '../../src/marks/standing/arrows-on-map.ts';
import {
  standingArrows,
  type SeenArrow,
  type SpotLook,
} from '../../src/marks/standing/standing-arrows.ts';
import { solveLeastSquares } from '../../src/marks/before-after/solve-least-squares.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import { ASSUMED_SHAFT_MM } from '../../src/request/assumed-shaft.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import { requestAsSaid, truthsIn, type Truth } from '../measure/truth.ts';
import { drawSet } from '../rendering/draw-set.ts';
import { LIVED } from '../rendering/scene.ts';

export interface OddsBenchOptions {
  /** Photos drawn before; without, some of every lived-in category are drawn. */
  readonly folder?: string;
  readonly firstSeed?: number;
}

/** A place that may be an entry, by its terms, and whether an arrow enters there. */
interface Place {
  readonly terms: readonly number[];
  readonly isEntry: boolean;
}

const PER_CATEGORY = 4;
/** A place farther from every true entry than this, in shafts, is none. */
const GATE_SHAFTS = 1.6;
/** How much is believed in the weights that there are: few places say little of the rarer terms. */
const RIDGE = 0.2;
const ROUNDS = 30;

/** Fits the odds of entries that were seen closely to drawn photos, and prints them beside those in use. */
export async function oddsBench(options: OddsBenchOptions = {}): Promise<void> {
  const drawn = options.folder ? null : mkdtempSync(join(tmpdir(), 'endwise-odds-'));
  const folder = options.folder ?? drawn!;
  try {
    if (drawn) {
      const categories = LIVED.filter((category) => category !== 'views');
      const firstSeed = options.firstSeed ?? 301;
      await drawSet(drawn, { categories, perCategory: PER_CATEGORY, firstSeed });
    }
    const { cv } = await loadOpenCv();
    const networks = await loadNetworks();
    if (!networks) throw new Error('The odds are of what networks see: their weights are missing.');
    const places: Place[] = [];
    for (const truth of truthsIn(folder)) {
      places.push(...(await placesOf(folder, truth, cv, networks)));
    }
    const fitted = logistic(places);
    const shares = (weights: readonly number[]) =>
      places.filter(({ terms, isEntry }) => dot(weights, terms) > 0 === isEntry).length /
      places.length;
    console.log(`\nOdds of entries seen closely, ${places.length} places`);
    console.table({
      'in use': [...WEIGHTS_SEEN_CLOSELY, shares(WEIGHTS_SEEN_CLOSELY)],
      fitted: [...fitted, shares(fitted)].map((value) => Number(value.toFixed(2))),
    });
  } finally {
    if (drawn) rmSync(drawn, { recursive: true });
  }
}

async function placesOf(
  folder: string,
  truth: Truth,
  cv: OpenCv,
  networks: Networks,
): Promise<Place[]> {
  const said = requestAsSaid(truth);
  const { face } = said;
  const shaftMm = 'shaftMm' in said ? said.shaftMm : ASSUMED_SHAFT_MM;
  const { raster: photo, focalPx } = await decodePhoto(await photoBytes(join(folder, truth.photo)));
  try {
    const { fit } = fitFace(photo, { face, ...(focalPx === undefined ? {} : { focalPx }) }, cv);
    const looks: SpotLook[] = [];
    for (let spot = 0; spot < fit.spotCentresMm.length; spot++) {
      const view = viewSpot(photo, fit, spot, shaftMm);
      looks.push({ view, maps: await networks.marks.evidence(view.flat, { fit, shaftMm }) });
    }
    const { arrows } = await standingArrows(looks, fit, closerLook(photo, fit, networks), {
      isShaftSaid: 'shaftMm' in said,
    });
    return labelled(arrows, truth);
  } catch (error) {
    if (error instanceof ReadingError) return [];
    throw error;
  }
}

/** Nearest pairs first, each once; what lies on an arrow that nobody can see is neither. */
function labelled(arrows: readonly SeenArrow[], { shots, shaft_mm }: Truth): Place[] {
  const pairs = arrows
    .flatMap((arrow) =>
      shots
        .filter(({ spot }) => spot === arrow.spot)
        .map((shot) => ({
          arrow,
          shot,
          apart: Math.hypot(arrow.mm[0] - shot.spot_mm[0], arrow.mm[1] - shot.spot_mm[1]),
        })),
    )
    .filter(({ apart }) => apart <= GATE_SHAFTS * shaft_mm)
    .sort((a, b) => a.apart - b.apart);
  const taken = new Set<unknown>();
  const own = new Map(
    pairs
      .filter(({ arrow, shot }) => {
        if (taken.has(arrow) || taken.has(shot)) return false;
        taken.add(arrow).add(shot);
        return true;
      })
      .map(({ arrow, shot }) => [arrow, shot]),
  );
  return arrows
    .filter((arrow) => own.get(arrow)?.visible !== false)
    .map((arrow) => ({ terms: termsSeenClosely(arrow.seen), isEntry: own.has(arrow) }));
}

/** Logistic regression towards the weights in use, by iterated weighted least squares. */
function logistic(places: readonly Place[]): number[] {
  const rows = places.map(({ terms }) => terms);
  let more = WEIGHTS_SEEN_CLOSELY.map(() => 0);
  for (let round = 0; round < ROUNDS; round++) {
    const odds = rows.map((terms) => dot(WEIGHTS_SEEN_CLOSELY, terms) + dot(more, terms));
    const p = odds.map((value) => 1 / (1 + Math.exp(-value)));
    const weights = p.map((value) => Math.max(1e-4, value * (1 - value)));
    const wanted = places.map(
      ({ terms, isEntry }, i) => dot(more, terms) + ((isEntry ? 1 : 0) - p[i]!) / weights[i]!,
    );
    more = solveLeastSquares(rows, wanted, weights, 2 * RIDGE);
  }
  return WEIGHTS_SEEN_CLOSELY.map((value, i) => value + more[i]!);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0);
}
