import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { fitFace } from '../../src/fit/fit-face.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { photoToSheet, sheetToPhoto, spotToSheet } from '../../src/fit/camera/project.ts';
import { loadOpenCv } from '../../src/raster/load-open-cv.ts';
import { drawEstimates } from '../fit/estimator-draws.ts';
import { radialErrors } from '../fit/radial-errors.ts';
import type { FitTruth } from '../fit/truth-fit.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';
import { quantile } from '../measure/quantile.ts';

type Point = readonly [number, number];

/** Of a photo's truth: holes from before this end, and the photo that shows them without it. */
interface OldHoles {
  readonly old: readonly { readonly px: Point }[];
  readonly phase: string | null;
  readonly pairOf: string | null;
}

const CASES = [
  { noisePx: 0.1, outliers: 0 },
  { noisePx: 0.5, outliers: 0 },
  { noisePx: 0.3, outliers: 0.3 },
  { noisePx: 0.3, outliers: 0.5 },
  { noisePx: 0.3, outliers: 0.6 },
];

/** Prints the estimator's errors against their bound, then the fit's on photos with truth. */
export async function fitBench(options: {
  folder?: string;
  only?: string;
  draws?: number;
}): Promise<void> {
  console.log('noise px  outliers  error mm  bound mm  error/bound  normalised  breakdowns');
  for (const { noisePx, outliers } of CASES) {
    const draws = options.draws ?? 1000;
    const r = drawEstimates({ draws, noisePx, outliers, seed: 7 });
    const cells = [
      noisePx.toFixed(1),
      outliers.toFixed(1),
      r.errorMm.toFixed(4),
      r.boundMm.toFixed(4),
      (r.errorMm / r.boundMm).toFixed(2),
      r.normalised.toFixed(2),
      `${r.breakdowns}/${draws}`,
    ];
    console.log(cells.map((cell) => cell.padStart(9)).join(' '));
  }
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const { cv } = await loadOpenCv();
  const errors: number[] = [];
  const turns: number[] = [];
  /** Where the old holes of each photo lie by its own fit, mm, in the truth's order. */
  const oldHoles = new Map<string, Point[]>();
  const pairs: [after: string, before: string][] = [];
  const inSd: number[] = [];
  const times: number[] = [];
  for (const name of readdirSync(folder).filter((file) => file.endsWith('.json'))) {
    if (options.only !== undefined && !name.startsWith(options.only)) continue;
    const truth = JSON.parse(readFileSync(join(folder, name), 'utf8')) as Partial<
      FitTruth & OldHoles
    >;
    if (truth.photo === undefined || truth.spots === undefined) continue;
    const { data, info } = await sharp(join(folder, truth.photo))
      .rotate()
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const began = performance.now();
    try {
      const photo = { width: info.width, height: info.height, data };
      const { fit } = fitFace(photo, { face: truth.face! }, cv);
      const ms = performance.now() - began;
      oldHoles.set(truth.photo, truth.old?.map(({ px }) => photoToSheet(fit, px)) ?? []);
      if (truth.phase === 'after' && truth.pairOf) pairs.push([truth.photo, truth.pairOf]);
      const errorMm = ringErrorMm(truth as FitTruth, fit);
      const at = sheetToPhoto(fit, spotToSheet(fit, 0, [0, 0]));
      const above = sheetToPhoto(fit, spotToSheet(fit, 0, [0, 1]));
      const turn =
        Math.atan2(above[1] - at[1], above[0] - at[0]) -
        Math.atan2(truth.up_px![1], truth.up_px![0]);
      const upDeg = (Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn))) * 180) / Math.PI;
      errors.push(errorMm);
      turns.push(upDeg);
      times.push(ms);
      const errorInSd = radialErrors(truth.spots, fit).inSd;
      inSd.push(errorInSd);
      console.log(
        `${truth.photo.padEnd(24)} ring ${errorMm.toFixed(2)} mm  up ${upDeg.toFixed(2)} deg` +
          `  residual ${fit.residualMm.toFixed(2)} mm  error / predicted sd ${errorInSd.toFixed(2)}  ${ms.toFixed(0)} ms`,
      );
    } catch (error) {
      errors.push(Infinity);
      console.log(`${truth.photo.padEnd(24)} ${(error as Error).message}`);
    }
  }
  const apart = pairs.flatMap(([name, earlier]) => {
    const [places, before] = [oldHoles.get(name) ?? [], oldHoles.get(earlier) ?? []];
    return places.flatMap(([x, y], i) => {
      const other = before[i];
      return other ? [Math.hypot(x - other[0], y - other[1])] : [];
    });
  });
  if (apart.length > 0) {
    const rms = Math.sqrt(apart.reduce((sum, mm) => sum + mm * mm, 0) / apart.length);
    console.log(`${apart.length} old holes, each in two photos: ${rms.toFixed(2)} mm rms apart`);
  }
  console.log(
    `ring error median ${quantile(errors, 0.5).toFixed(2)} mm, p95 ${quantile(errors, 0.95).toFixed(2)} mm;` +
      ` up p95 ${quantile(turns, 0.95).toFixed(2)} deg;` +
      ` error / predicted sd median ${quantile(inSd, 0.5).toFixed(2)};` +
      ` time median ${quantile(times, 0.5).toFixed(0)} ms, p95 ${quantile(times, 0.95).toFixed(0)} ms`,
  );
}

/** Rms distance of the true ring points from the fitted ring of the same radius, drawn as 72 points. */
function ringErrorMm(truth: FitTruth, fit: FaceFit): number {
  let sum = 0;
  let count = 0;
  truth.spots.forEach((spot, index) => {
    for (const ring of spot.rings) {
      const line = Array.from({ length: 72 }, (_, i) => {
        const angle = (i * 5 * Math.PI) / 180;
        const mm = [ring.radius_mm * Math.cos(angle), ring.radius_mm * Math.sin(angle)] as const;
        return sheetToPhoto(fit, spotToSheet(fit, index, mm));
      });
      for (const px of ring.px) {
        if (!px) continue;
        const reach = Math.hypot(px[0] - spot.centre_px[0], px[1] - spot.centre_px[1]);
        sum += ((lineDistance(px, line) * ring.radius_mm) / reach) ** 2;
        count++;
      }
    }
  });
  return Math.sqrt(sum / count);
}

function lineDistance(p: Point, line: readonly Point[]): number {
  let nearest = Infinity;
  line.forEach((a, i) => {
    const b = line[(i + 1) % line.length]!;
    const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
    const along = ((p[0] - a[0]) * ux + (p[1] - a[1]) * uy) / (ux * ux + uy * uy);
    const t = Math.max(0, Math.min(1, along));
    nearest = Math.min(nearest, Math.hypot(p[0] - a[0] - t * ux, p[1] - a[1] - t * uy));
  });
  return nearest;
}
