import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { FACE_IDS, FACES, zoneWidthMm, type FaceId } from '../../src/face/faces.ts';
import { lookOf } from '../../src/face/looks.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { photoToSheet, sheetToPhoto, spotToSheet } from '../../src/fit/camera/project.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import { loadOpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import type { FaceChoice } from '../../src/request/request.ts';
import { quantile } from '../measure/quantile.ts';
import { livedScene } from '../rendering/lived-scene.ts';
import { madeSmall } from '../rendering/made-small.ts';
import { renderPhoto } from '../rendering/render-photo.ts';
import { LIVED, TIDY, type Category, type LivedCategory, type Scene } from '../rendering/scene.ts';
import { tidyScene } from '../rendering/tidy-scene.ts';

export interface FitsBenchOptions {
  readonly firstSeed?: number;
  readonly count?: number;
  /** Where the drawn photos are kept, and taken from where they lie there already. */
  readonly folder?: string;
}

type Pair = readonly [number, number];
type Truth = Pick<Awaited<ReturnType<typeof renderPhoto>>['truth'], 'face' | 'spots' | 'up_px'> & {
  readonly category: Category;
};

const LONG_PX = 960;
/** A fit is right whose centre and rings lie within this part of a zone. */
const RIGHT_ZONES = 0.1;
/** 'Up' shall be no farther off. */
const UP_DEG = 3;

/** What is said of the face in each photo: five times out of ten what it is. */
const SAYS = ['itself', 'auto', 'itself', 'alike', 'itself', 'auto', 'other', 'itself'] as const;
type Says = (typeof SAYS)[number];

interface Outcome {
  readonly name: string;
  readonly truth: Truth;
  readonly says: Says;
  readonly said: FaceChoice;
  readonly result: 'right' | 'refused' | 'wrong';
  /** The error's code; of a fit, the face that was read. */
  readonly as: string;
  readonly centreZones: number;
  readonly ringZones: number;
  readonly upDeg: number;
}

/**
 * Draws photos of every face under every condition, fits each as somebody might say it, and counts what
 * is right, what is refused with a sentence, and what is wrong without a word.
 */
export async function fitsBench(options: FitsBenchOptions = {}): Promise<void> {
  const { firstSeed = 1, count = 200 } = options;
  const folder = options.folder ?? join(tmpdir(), 'endwise-fits');
  mkdirSync(folder, { recursive: true });
  const { cv } = await loadOpenCv();
  const outcomes: Outcome[] = [];
  for (let seed = firstSeed; seed < firstSeed + count; seed++) {
    const { name, photo, truth } = await drawn(seed, folder);
    const says = SAYS[seed % SAYS.length]!;
    const said = saidFace(truth.face, says, seed);
    const about = { name, truth, says, said };
    try {
      const { fit } = fitFace(photo, { face: said }, cv);
      outcomes.push({ ...about, ...judged(truth, says, fit), as: fit.face });
    } catch (error) {
      if (!(error instanceof ReadingError)) throw error;
      const none = { centreZones: NaN, ringZones: NaN, upDeg: NaN };
      outcomes.push({ ...about, ...none, result: 'refused', as: error.code });
    }
    tell(outcomes.at(-1)!);
  }
  const categories = [...new Set(outcomes.map(({ truth }) => truth.category))];
  console.table(
    Object.fromEntries([
      ...categories.map((c) => [c, figures(outcomes.filter((o) => o.truth.category === c))]),
      ...(['itself', 'auto', 'alike', 'other'] as const).map((says) => [
        `said: ${says}`,
        figures(outcomes.filter((o) => o.says === says)),
      ]),
      ['all', figures(outcomes)],
    ]),
  );
}

/** Two views of one end are photos like the others. */
const CATEGORIES: readonly Category[] = [...TIDY, ...LIVED].filter((one) => one !== 'views');

async function drawn(seed: number, folder: string) {
  const name = `fits-${String(seed).padStart(4, '0')}`;
  const [photoFile, truthFile] = [join(folder, `${name}.jpg`), join(folder, `${name}.json`)];
  if (!existsSync(truthFile)) {
    const { jpeg, truth } = await renderPhoto(sceneOf(seed), `${name}.jpg`);
    writeFileSync(photoFile, jpeg);
    writeFileSync(truthFile, JSON.stringify(truth));
  }
  const { data, info } = await sharp(photoFile)
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const photo: Raster = { width: info.width, height: info.height, data };
  return { name, photo, truth: JSON.parse(readFileSync(truthFile, 'utf8')) as Truth };
}

/** Faces and conditions go round with different periods, so that each meets each. */
function sceneOf(seed: number): Scene {
  const category = CATEGORIES[seed % CATEGORIES.length]!;
  const face = FACE_IDS[(seed * 7) % FACE_IDS.length]!;
  const isLived = (LIVED as readonly Category[]).includes(category);
  const scene = isLived
    ? livedScene(5000 + seed, category as LivedCategory, face)
    : tidyScene(5000 + seed, category as Exclude<Category, LivedCategory>, face);
  return madeSmall(scene, LONG_PX);
}

function saidFace(face: FaceId, says: Says, seed: number): FaceChoice {
  if (says === 'itself' || says === 'auto') return says === 'auto' ? 'auto' : face;
  const own = lookOf(FACES[face].family);
  const others = FACE_IDS.filter(
    (id) => id !== face && (lookOf(FACES[id].family) === own) === (says === 'alike'),
  );
  return others[seed % others.length] ?? face;
}

function judged(truth: Truth, says: Says, fit: FaceFit) {
  const printed = FACES[truth.face];
  const [own, zoneMm] = [zoneWidthMm(printed), zoneWidthMm(FACES[fit.face])];
  // Every spot that is claimed must be one that is there.
  const spots = fit.spotCentresMm.map((_, spot) => {
    const centre = sheetToPhoto(fit, spotToSheet(fit, spot, [0, 0]));
    const apart = truth.spots.map(({ centre_px: [x, y] }) =>
      Math.hypot(x - centre[0], y - centre[1]),
    );
    return { spot, real: truth.spots[apart.indexOf(Math.min(...apart))]! };
  });
  const zonesFrom = (spot: number, px: Pair): number => {
    const [x, y] = photoToSheet(fit, px);
    const [cx, cy] = fit.spotCentresMm[spot]!;
    return Math.hypot(x - cx, y - cy) / zoneMm;
  };
  const centreZones = Math.max(
    ...spots.map(({ spot, real }) => zonesFrom(spot, real.centre_px as unknown as Pair)),
  );
  // Of the rings that both faces have.
  const reach = FACES[fit.face].zones[0]!.outerRadiusMm / zoneMm + 1e-6;
  const errors = spots.flatMap(({ spot, real }) =>
    real.rings
      .filter(({ radius_mm }) => radius_mm / own <= reach)
      .flatMap(({ radius_mm, px }) =>
        px.flatMap((place) =>
          place ? [zonesFrom(spot, place as unknown as Pair) - radius_mm / own] : [],
        ),
      ),
  );
  const ringZones = Math.sqrt(errors.reduce((sum, one) => sum + one * one, 0) / errors.length);
  const at = sheetToPhoto(fit, spotToSheet(fit, 0, [0, 0]));
  const above = sheetToPhoto(fit, spotToSheet(fit, 0, [0, 1]));
  const turn =
    Math.atan2(above[1] - at[1], above[0] - at[0]) - Math.atan2(truth.up_px[1]!, truth.up_px[0]!);
  const upDeg = (Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) * 180) / Math.PI;
  // A face that was not said must be the one that is there, as far as the picture shows.
  const beyond = truth.spots[0]!.rings.some(
    ({ radius_mm, px }) =>
      radius_mm / own > reach && px.filter((place) => place !== null).length > px.length / 4,
  );
  const sameFace =
    FACES[fit.face].family === printed.family || (says === 'auto' ? false : fit.notes.length > 0);
  const fits = centreZones < RIGHT_ZONES && ringZones < RIGHT_ZONES;
  const result = fits && (sameFace || !beyond) ? ('right' as const) : ('wrong' as const);
  return { result, centreZones, ringZones, upDeg };
}

function tell({ name, truth, said, result, as, centreZones, ringZones, upDeg }: Outcome): void {
  const numbers = Number.isNaN(ringZones)
    ? ''
    : `centre ${centreZones.toFixed(3)} rings ${ringZones.toFixed(3)} zones, up ${upDeg.toFixed(1)}`;
  console.log(
    `${name} ${truth.category.padEnd(9)} ${truth.face.padEnd(23)} said ${said.padEnd(23)} ` +
      `${result.toUpperCase().padEnd(8)} ${as.padEnd(14)} ${numbers}`,
  );
}

function figures(outcomes: readonly Outcome[]) {
  const of = (result: Outcome['result']) => outcomes.filter((one) => one.result === result);
  const right = of('right');
  const up = right.map(({ upDeg }) => upDeg);
  const shown = (value: number, digits: number) => Number(value.toFixed(digits));
  const rings = right.map(({ ringZones }) => ringZones);
  return {
    photos: outcomes.length,
    right: right.length,
    refused: of('refused').length,
    wrong: of('wrong').length,
    ringZonesP95: shown(quantile(rings, 0.95), 3),
    upP95Deg: shown(quantile(up, 0.95), 1),
    upOff: up.filter((deg) => deg > UP_DEG).length,
  };
}
