import { FACES } from '../../src/face/faces.ts';
import { zoneAt } from '../../src/face/line-rule.ts';
import type { Reading } from '../../src/reading/reading.ts';
import type { Truth } from './truth.ts';

type Pair = readonly [number, number];
type ReadMark = Reading['marks'][number];
type TrueMark = { mm: Pair; spot: number; shot: Truth['shots'][number] | null };

/** A mark found further from the true one than this fraction of a zone is another mark. */
const GATE_ZONES = 0.25;
/** Shots nearer to a line than this are line calls, judged apart. */
const LINE_MM = 0.5;

export interface ReadingScore {
  /** rms distance of true ring points from the fitted ring, mm. */
  readonly fitMm: number;
  readonly upDeg: number;
  readonly hit: number;
  readonly missed: number;
  readonly extra: number;
  /** Distance of each found mark from its true place, mm. */
  readonly errorsMm: readonly number[];
  /** The same per axis in units of the mark's own sdMm. */
  readonly normalised: readonly number[];
  /** Shots clear of lines, and how many of those got the right value. */
  readonly clear: number;
  readonly clearRight: number;
  /** Distance of the offset read from the true one, mm; null where it has no meaning. */
  readonly offsetMm: number | null;
  readonly tagged: number;
  readonly tagRight: number;
}

/**
 * Compares a reading with the truth. Shots nobody can see are neither hits nor false alarms; on a
 * used face without a photo from before, every hole counts.
 */
export function scoreReading(truth: Truth, reading: Reading): ReadingScore {
  const face = FACES[truth.face];
  const zoneWidth = Math.abs(face.zones.at(-2)!.outerRadiusMm - face.zones.at(-1)!.outerRadiusMm);
  const gateMm = GATE_ZONES * zoneWidth;
  const asShot = (shot: Truth['shots'][number]): TrueMark => ({
    mm: shot.spot_mm,
    spot: shot.spot,
    shot,
  });
  const seen = truth.shots.filter((shot) => shot.visible);
  const standing = truth.shots.some((shot) => shot.nock_px);
  const anyHole = !truth.pairOf && !standing && truth.old.length > 0;
  const old = truth.old
    .filter((hole) => hole.in_frame)
    .map((hole): TrueMark => ({ mm: hole.spot_mm ?? hole.mm, spot: hole.spot, shot: null }));
  const wanted = [...seen.map(asShot), ...(anyHole ? old : [])];
  const offered = reading.marks.filter((mark) => anyHole || mark.age !== 'old');
  const { pairs, extra } = match(wanted, offered, gateMm);
  const hidden = truth.shots.filter((shot) => !shot.visible).map(asShot);
  const shots = pairs.flatMap(({ mark, truth: t }) => (t.shot ? [{ mark, shot: t.shot }] : []));
  const clear = shots.filter(
    ({ shot }) => Math.abs(zoneAt(face, shot.spot_mm, shot.shaft_mm).marginMm) > LINE_MM,
  );
  const tagged = shots.filter(({ mark }) => mark.kind !== 'unknown');
  return {
    fitMm: fitError(truth, reading),
    upDeg: angleBetween(truth.up_px, reading.fit.spots[0]!.upPx),
    hit: pairs.length,
    missed: wanted.length - pairs.length,
    extra: match(hidden, extra, gateMm).extra.length,
    errorsMm: pairs.map(({ mark, truth: t }) => distance(mark.mm, t.mm)),
    normalised: pairs.flatMap(({ mark, truth: t }) => [
      (mark.mm[0] - t.mm[0]) / mark.sdMm,
      (mark.mm[1] - t.mm[1]) / mark.sdMm,
    ]),
    clear: clear.length,
    clearRight: clear.filter(({ mark, shot }) => mark.zone === shot.zone).length,
    offsetMm: offsetError(seen, shots),
    tagged: tagged.length,
    tagRight: tagged.filter(({ mark, shot }) => mark.kind === shot.kind).length,
  };
}

/** Nearest pairs first, each mark once. */
function match(wanted: readonly TrueMark[], offered: readonly ReadMark[], gateMm: number) {
  const near = wanted
    .flatMap((truth) =>
      offered
        .filter((mark) => mark.spot === truth.spot)
        .map((mark) => ({ truth, mark, apart: distance(mark.mm, truth.mm) })),
    )
    .filter(({ apart }) => apart <= gateMm)
    .sort((a, b) => a.apart - b.apart);
  const used = new Set<unknown>();
  const pairs = near.filter(({ truth, mark }) => {
    if (used.has(truth) || used.has(mark)) return false;
    used.add(truth).add(mark);
    return true;
  });
  return { pairs, extra: offered.filter((mark) => !used.has(mark)) };
}

function fitError(truth: Truth, reading: Reading): number {
  const squares: number[] = [];
  truth.spots.forEach((spot, s) => {
    for (const ring of spot.rings) {
      const own = reading.fit.spots[s]?.rings.find(
        (r) => Math.abs(r.radiusMm - ring.radius_mm) < 0.01,
      );
      if (!own) continue;
      for (const px of ring.px) {
        if (!px) continue;
        const mmPerPx = ring.radius_mm / distance(px, spot.centre_px);
        squares.push((distanceToLoop(px, own.px) * mmPerPx) ** 2);
      }
    }
  });
  return Math.sqrt(mean(squares));
}

function offsetError(
  seen: readonly Truth['shots'][number][],
  shots: readonly { mark: ReadMark; shot: Truth['shots'][number] }[],
): number | null {
  const offset = (places: readonly { kind: 'fletched' | 'bare'; mm: Pair }[]): Pair | null => {
    const centre = (kind: 'fletched' | 'bare') => {
      const own = places.filter((place) => place.kind === kind).map((place) => place.mm);
      return own.length > 0 ? [mean(own.map((p) => p[0])), mean(own.map((p) => p[1]))] : null;
    };
    const [f, b] = [centre('fletched'), centre('bare')];
    return f && b ? [b[0]! - f[0]!, b[1]! - f[1]!] : null;
  };
  const real = offset(seen.map((shot) => ({ kind: shot.kind, mm: shot.spot_mm })));
  if (!real) return null;
  const read = offset(shots.map(({ mark, shot }) => ({ kind: shot.kind, mm: mark.mm })));
  return read ? distance(read, real) : Infinity;
}

function distanceToLoop(p: Pair, loop: readonly Pair[]): number {
  let least = Infinity;
  loop.forEach((a, i) => {
    const b = loop[(i + 1) % loop.length]!;
    const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
    const along = ((p[0] - a[0]) * ux + (p[1] - a[1]) * uy) / (ux * ux + uy * uy || 1);
    const t = Math.max(0, Math.min(1, along));
    least = Math.min(least, Math.hypot(p[0] - a[0] - t * ux, p[1] - a[1] - t * uy));
  });
  return least;
}

function angleBetween(a: Pair, b: Pair): number {
  const turn = Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
  return (Math.abs(turn) * 180) / Math.PI;
}

const distance = (a: Pair, b: Pair): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
