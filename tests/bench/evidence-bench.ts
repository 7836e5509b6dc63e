import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readPhotoFile } from '../../server/decode/read-photo-file.ts';
import { loadNetworks } from '../../server/reading/load-networks.ts';
import { flatten, spotToFlat, type FlatFace } from '../../src/fit/flat/flatten.ts';
import { sheetToSpot } from '../../src/fit/camera/project.ts';
import type { EvidenceMaps } from '../../src/marks/network/evidence-maps.ts';
import { peaksOf } from '../../src/marks/network/peaks-of.ts';
import { truthFit, type FitTruth } from '../fit/truth-fit.ts';
import { truthsIn, type Truth } from '../measure/truth.ts';
import { PHOTO_FOLDERS } from './reading-bench.ts';

export interface EvidenceBenchOptions {
  readonly folder?: string;
  /** Only photos whose name begins with this. */
  readonly only?: string;
}

const SHAFT_PX = 8;
const LEAST_HEIGHT = 0.25;
const NEAR_SHAFTS = 0.5;

interface Tally {
  wanted: number;
  found: number;
  falsePeaks: number;
  cpuMs: number;
}

/**
 * Judges the network alone: peaks of its hole and entry maps over faces flattened through the
 * truth's camera, against every hole and every standing arrow of the truth.
 */
export async function evidenceBench(options: EvidenceBenchOptions = {}): Promise<void> {
  const folder = options.folder ?? PHOTO_FOLDERS.find((path) => existsSync(path))!;
  const networks = await loadNetworks();
  if (networks === null) throw new Error('The network has no weights to measure.');
  const tallies = new Map<string, Tally>();
  for (const truth of truthsIn(folder).filter((t) => t.photo.startsWith(options.only ?? ''))) {
    const { raster } = await readPhotoFile(join(folder, truth.photo));
    const json = readFileSync(join(folder, truth.photo.replace(/jpg$/, 'json')), 'utf8');
    const fit = truthFit(JSON.parse(json) as FitTruth);
    for (let spot = 0; spot < fit.spotCentresMm.length; spot++) {
      const mmPerPx = truth.shaft_mm / SHAFT_PX;
      const flat = flatten(raster, fit, { spot, mmPerPx });
      const start = process.cpuUsage();
      const maps = await networks.marks.evidence(flat, { fit, shaftMm: truth.shaft_mm });
      const { user, system } = process.cpuUsage(start);
      const { shots, old } = marksOn(flat, truth, spot, (mm) => sheetToSpot(fit, mm));
      const standing = truth.category === 'standing';
      const holes = standing ? old : [...shots, ...old];
      const entries = standing ? shots : [];
      const cpuMs = (user + system) / 1000;
      // A hole under a shaft or vane cannot be seen and is not asked for; a peak there is no error.
      const open = holes.filter((px) => !covered(maps, px));
      count(
        tallies,
        `holes, ${truth.category}`,
        maps,
        maps.hole,
        open,
        [...holes, ...entries],
        cpuMs,
      );
      if (standing) count(tallies, 'entries, standing', maps, maps.entry, entries, entries, cpuMs);
      else count(tallies, 'entries, none stand', maps, maps.entry, [], [], cpuMs);
    }
  }
  for (const [name, { wanted, found, falsePeaks, cpuMs }] of [...tallies].sort()) {
    console.log(
      `${name.padEnd(20)} ${found} of ${wanted} found, ${falsePeaks} false, ${cpuMs.toFixed(0)} ms of processor time`,
    );
  }
  await networks.marks.release();
  await networks.rears.release();
}

type Px = readonly [number, number];

/** Shots and older holes of one spot that the photo shows, in flat pixels. */
function marksOn(
  flat: FlatFace,
  truth: Truth,
  spot: number,
  toSpot: (mm: Px) => { spot: number; mm: Px },
): { shots: Px[]; old: Px[] } {
  const side = flat.raster.width;
  const shown = ([x, y]: Px) =>
    x > 4 &&
    y > 4 &&
    x < side - 4 &&
    y < side - 4 &&
    flat.seen[Math.floor(y) * side + Math.floor(x)] === 1;
  return {
    shots: truth.shots
      .filter((shot) => shot.spot === spot)
      .map((shot): Px => spotToFlat(flat, shot.spot_mm))
      .filter(shown),
    old: truth.old
      .filter((hole) => hole.in_frame)
      .map((hole) => toSpot(hole.mm))
      .filter((hole) => hole.spot === spot)
      .map((hole): Px => spotToFlat(flat, hole.mm))
      .filter(shown),
  };
}

function covered(maps: EvidenceMaps, [x, y]: Px): boolean {
  const at = Math.floor(y / maps.pxPerCell) * maps.width + Math.floor(x / maps.pxPerCell);
  return maps.shaft[at]! > 0.4 || maps.vane[at]! > 0.4;
}

/** Pairs peaks with wanted marks, nearest first; a peak near any mark is never false. */
function count(
  tallies: Map<string, Tally>,
  name: string,
  maps: EvidenceMaps,
  heat: Float32Array,
  wanted: readonly Px[],
  anyMark: readonly Px[],
  cpuMs: number,
): void {
  const tally = tallies.get(name) ?? { wanted: 0, found: 0, falsePeaks: 0, cpuMs: 0 };
  tallies.set(name, tally);
  const free = peaksOf(heat, maps, LEAST_HEIGHT).map((peak) => peak.px);
  const near = (a: Px, b: Px) => Math.hypot(a[0] - b[0], a[1] - b[1]) < NEAR_SHAFTS * SHAFT_PX;
  tally.wanted += wanted.length;
  tally.cpuMs += cpuMs;
  for (const mark of wanted) {
    const taken = free.findIndex((px) => near(px, mark));
    if (taken < 0) continue;
    tally.found++;
    free.splice(taken, 1);
  }
  tally.falsePeaks += free.filter((px) => !anyMark.some((mark) => near(px, mark))).length;
}
