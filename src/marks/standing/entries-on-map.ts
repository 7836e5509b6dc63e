import { boxBlur } from '../flat-view/box-blur.ts';
import { isOfCores, largestNear, type ShaftMap } from './shaft-map.ts';
import { DIRECTIONS, LONG_STEPS, TAPERS, TURNS, widthAt } from './strips.ts';
import { sumsAhead } from './sums-ahead.ts';

/** What is seen of a place from which a strip of a shaft map leads away. Cells. */
export interface SeenEntry {
  readonly x: number;
  readonly y: number;
  /** Direction from the entry along the strip, radians, y down. */
  readonly angle: number;
  /** Change of the width over a length, both in cells. */
  readonly taper: number;
  /** Strip ahead that nothing else explains, less what is claimed in vain, in squares of a shaft. */
  readonly gain: number;
  /** The same, others' explanations left aside. */
  readonly evidence: number;
  /** How far the strip can be followed, and whether it leaves the picture there. */
  readonly length: number;
  readonly runsOut: boolean;
  /** Where it leads in the end: direction from the entry to there, radians. */
  readonly farAngle: number;
  /** Largest heat of an entry here that belongs to no other arrow. */
  readonly heat: number;
  /**
   * How much of what lies behind, in the same line, is a shaft that nothing else explains, 0 to 1: in
   * the next few shafts, and beyond.
   */
  readonly behind: number;
  readonly farBehind: number;
  /** Likeliness of showing a vane at or behind the place, 0 to 1. */
  readonly vane: number;
  /** Log density of the direction among arrows that stand here. */
  readonly direction: number;
}

/** What is believed of arrows before the map is seen. */
export interface EntryBelief {
  /** Whether an arrow may enter at a place. */
  readonly mayEnter: (x: number, y: number) => boolean;
  /** Log density of a direction (radians, y down) from a place, against one that is the same all round. */
  readonly direction: (x: number, y: number, angle: number) => number;
  /** Taper to expect of a strip from a place, and the least and most there. */
  readonly taper: (x: number, y: number) => readonly [likely: number, least: number, most: number];
  /** Log-odds of being an arrow's entry. */
  readonly logOdds: (seen: SeenEntry) => number;
}

export interface FoundEntry extends SeenEntry {
  readonly logOdds: number;
}

/** Stretch ahead of an entry that tells it, in shafts: further on arrows cover one another. */
const AHEAD = 16;
/** What counts as behind an entry, and as far behind it, in shafts. */
const BEHIND = [1, 3.4] as const;
const FAR_BEHIND = [3.8, 10] as const;
/**
 * A strip is seen ahead of an entry where so much of it is nothing else, squares of a shaft: where its
 * direction and width are fitted, and where they are only about right.
 */
const LEAST_GAIN = 1;
const LEAST_ROUGH_GAIN = 0.3;
/** Where its own heat and what lies ahead show it, others may explain all of that: squares of a shaft. */
const LEAST_EVIDENCE = 4;
/** Log-odds that a start is put off where a shaft leads on behind it. */
const REST = 4;
/** Entries as likely as this are looked for (log-odds). */
const LEAST_ODDS = -3.5;
/** Most entries looked for. */
const MOST_ENTRIES = 40;
/** Shafts cannot stand in one another: entries are so far apart, in shafts. */
const APART = 0.85;
/** Beliefs about directions change slowly: they are asked once in squares of so many shafts. */
const SQUARE_SHAFTS = 2;
/** Directions that are looked at from one peak of heat; from other cells only the likeliest one is. */
const DIRECTIONS_OF_PEAK = 3;
/** How far ahead of a peak of heat its strip may begin, in shafts. */
const BEGINS = [0, 1, 2, 3] as const;
/** Beside a strip the map is blurred so far, in shafts: that is explained as well. */
const HALO = 0.3;
/** A strip goes on behind a gap of so many shafts, and turns aside by no more than this slope. */
const GAP = 6;
const DRIFT = 0.04;

type Place = Pick<SeenEntry, 'x' | 'y' | 'angle' | 'taper'>;

interface State {
  readonly map: ShaftMap;
  readonly belief: EntryBelief;
  /** What is still to be explained, 1 everything, 0 nothing, one value for each cell. */
  readonly unexplained: Float32Array;
  /** Heat of entries that belong to no arrow yet. */
  readonly heat: Float32Array | null;
}

/** Fewest entries whose strips explain a shaft map, the likeliest first. */
export function entriesOnMap(
  map: ShaftMap,
  peaks: readonly (readonly [number, number])[],
  belief: EntryBelief,
): FoundEntry[] {
  const state: State = {
    map,
    belief,
    unexplained: new Float32Array(map.covered.length).fill(1),
    heat: map.entry?.slice() ?? null,
  };
  let candidates = placesToLookAt(map, peaks, belief)
    .map((place) => look(state, place))
    .filter(({ logOdds }) => logOdds >= LEAST_ODDS - 3);
  const found: FoundEntry[] = [];
  while (found.length < MOST_ENTRIES) {
    let first: FoundEntry | null = null;
    for (const one of candidates) if (!first || order(one) > order(first)) first = one;
    if (!first || first.logOdds < LEAST_ODDS) break;
    const likeliest = fitted(state, first);
    if (likeliest.gain < LEAST_GAIN && !isHeatedInOthers(likeliest)) {
      candidates = candidates.filter((one) => one !== first);
      continue;
    }
    const entry = followed(map, likeliest);
    found.push(entry);
    explain(state, entry);
    candidates = candidates
      .filter(({ x, y }) => Math.hypot(x - entry.x, y - entry.y) > APART * map.shaft)
      .map((one) => (mayOverlap(map, one, entry) ? look(state, one) : one));
  }
  return withoutRests(map, found);
}

/** Log-odds against a start in the middle of another's strip: gaps make one arrow look like two. */
const REST_OF_OTHER = 6;
/** A start is the rest of another strip when it points as the other does up to this, radians. */
const SAME_DIRECTION = 0.12;
/** Heat that makes a start an entry of its own, wherever it lies. */
const OWN_HEAT = 0.2;

/** Marks down starts that lie in line with an earlier part of the same strip; the likeliest first. */
function withoutRests(map: ShaftMap, found: readonly FoundEntry[]): FoundEntry[] {
  const isRestOf = (rest: FoundEntry, whole: FoundEntry): boolean => {
    if (rest === whole || rest.heat >= OWN_HEAT) return false;
    const ux = Math.cos(whole.angle);
    const uy = Math.sin(whole.angle);
    const ahead = (rest.x - whole.x) * ux + (rest.y - whole.y) * uy;
    const beside = Math.abs((rest.x - whole.x) * uy - (rest.y - whole.y) * ux);
    const turn = Math.abs(Math.sin(rest.angle - whole.angle));
    return (
      ahead > map.shaft &&
      ahead < whole.length &&
      beside < 0.75 * widthAt(map.shaft, whole.taper, ahead) + 0.01 * ahead &&
      turn < SAME_DIRECTION &&
      Math.cos(rest.angle - whole.angle) > 0
    );
  };
  return found
    .map((one) =>
      found.some((other) => other.logOdds > LEAST_ODDS && isRestOf(one, other))
        ? { ...one, logOdds: one.logOdds - REST_OF_OTHER }
        : one,
    )
    .sort((a, b) => b.logOdds - a.logOdds);
}

/** Whether a place has heat of its own in strips that others explain. */
function isHeatedInOthers({ heat, evidence }: SeenEntry): boolean {
  return heat >= OWN_HEAT && evidence >= LEAST_EVIDENCE;
}

/** What leads on behind its start is explained after that which it may be the rest of. */
function order({ logOdds, behind, farBehind }: FoundEntry): number {
  return logOdds - REST * Math.max(behind, farBehind);
}

/** Peaks of heat and cells of strips, each with the directions in which most lies ahead. */
function placesToLookAt(
  map: ShaftMap,
  peaks: readonly (readonly [number, number])[],
  belief: EntryBelief,
): Place[] {
  const { width, height, shaft, covered } = map;
  const squarePx = SQUARE_SHAFTS * shaft;
  const squares = Math.ceil(width / squarePx);
  const cells: { x: number; y: number; best: number; k: number }[] = [];
  const apart = Math.max(1, Math.round(0.6 * shaft));
  for (let y = 0; y < height; y += apart) {
    for (let x = 0; x < width; x += apart) {
      if (covered[y * width + x]! > 0.5 && belief.mayEnter(x + 0.5, y + 0.5)) {
        cells.push({ x: x + 0.5, y: y + 0.5, best: -Infinity, k: 0 });
      }
    }
  }
  const places = peaks
    .filter(([x, y]) => belief.mayEnter(x, y))
    .map(([x, y]) => ({ x, y, merits: [] as number[] }));
  const horizon = 1 - 1 / (AHEAD * shaft);
  if (cells.length === 0 && places.length === 0) return [];
  const core = isOfCores(map)
    ? covered
    : boxBlur(covered, width, Math.max(1, Math.round(0.3 * map.part * shaft)));
  const ahead = sumsAhead(map, core);
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = (2 * Math.PI * k) / DIRECTIONS;
    const { sums, at: placeOf } = ahead(angle, horizon);
    const known = new Float32Array(squares * squares).fill(NaN);
    const asked = (x: number, y: number): number => {
      const [column, row] = [Math.floor(x / squarePx), Math.floor(y / squarePx)];
      const square = row * squares + column;
      if (Number.isNaN(known[square]!)) {
        known[square] = belief.direction((column + 0.5) * squarePx, (row + 0.5) * squarePx, angle);
      }
      return known[square]!;
    };
    for (const cell of cells) {
      const here = (2 * sums[placeOf(cell.x | 0, cell.y | 0)]!) / shaft + asked(cell.x, cell.y);
      if (here > cell.best) [cell.best, cell.k] = [here, k];
    }
    for (const place of places) {
      // The front of a shaft is often darker, or mirrors the paper: its strip may begin a little ahead.
      let begins = -Infinity;
      for (const after of BEGINS) {
        const i = Math.floor(place.x + after * shaft * Math.cos(angle));
        const j = Math.floor(place.y + after * shaft * Math.sin(angle));
        if (i < 0 || j < 0 || i >= width || j >= height) continue;
        begins = Math.max(begins, (2 * sums[placeOf(i, j)]!) / shaft - after);
      }
      place.merits.push(begins + asked(place.x, place.y));
    }
  }
  const at = (x: number, y: number, k: number): Place => ({
    x,
    y,
    angle: (2 * Math.PI * k) / DIRECTIONS,
    taper: belief.taper(x, y)[0],
  });
  return [
    ...cells.map(({ x, y, k }) => at(x, y, k)),
    ...places.flatMap(({ x, y, merits }) =>
      merits
        .map((merit, k) => ({ merit, k }))
        .filter(
          ({ merit, k }) =>
            merit >= merits[(k + 1) % DIRECTIONS]! &&
            merit > merits[(k + DIRECTIONS - 1) % DIRECTIONS]!,
        )
        .sort((a, b) => b.merit - a.merit)
        .slice(0, DIRECTIONS_OF_PEAK)
        .map(({ k }) => at(x, y, k)),
    ),
  ];
}

/** What is seen of a place, and how likely an arrow enters there. */
function look({ map, belief, unexplained, heat }: State, place: Place): FoundEntry {
  const { width, height, shaft, covered, part, seen, vane } = map;
  const ux = Math.cos(place.angle);
  const uy = Math.sin(place.angle);
  const step = Math.max(1, shaft / 2.5);
  let sum = 0;
  let evidence = 0;
  let gain = 0;
  let evidenceThere = 0;
  let mostEvidence = 0;
  let length = 0;
  let runsOut = false;
  const square = shaft * shaft;
  for (let d = 0; d <= AHEAD * shaft; d += step) {
    const wide = widthAt(shaft, place.taper, d);
    const samples = Math.max(3, Math.round(wide / step));
    let here = 0;
    let all = 0;
    let outside = 0;
    for (let k = 0; k < samples; k++) {
      // The outermost samples lie well inside: edges of a map are blurred.
      const t = ((k + 0.5) / samples - 0.5) * wide * 0.85 * part;
      const i = Math.floor(place.x + d * ux - t * uy);
      const j = Math.floor(place.y + d * uy + t * ux);
      const at = j * width + i;
      if (i < 0 || j < 0 || i >= width || j >= height || !seen[at]) {
        outside++;
        continue;
      }
      const value = covered[at]! - 0.5;
      all += value;
      here += value > 0 ? value * unexplained[at]! : value;
    }
    if (outside * 2 > samples) {
      runsOut = true;
      break;
    }
    // Widening strips count no more than straight ones: distance is what tells an arrow.
    const area = (2 * shaft * step) / samples / square;
    sum += area * here;
    evidence += area * all;
    mostEvidence = Math.max(mostEvidence, evidence);
    if (sum > gain) {
      gain = sum;
      length = d;
      evidenceThere = evidence;
    } else if (sum < gain - GAP) break;
  }
  const covers = (from: number, to: number): number => {
    let share = 0;
    const steps = 7;
    for (let k = 0; k < steps; k++) {
      const d = (from + ((to - from) * k) / (steps - 1)) * shaft;
      const i = Math.floor(place.x - d * ux);
      const j = Math.floor(place.y - d * uy);
      if (i < 0 || j < 0 || i >= width || j >= height) continue;
      share += (covered[j * width + i]! * unexplained[j * width + i]!) / steps;
    }
    return share;
  };
  const vaneThere = vane
    ? Math.max(
        ...[0, 0.7, 1.4].map((back) =>
          largestNear(map, vane, place.x - back * shaft * ux, place.y - back * shaft * uy, 1),
        ),
      )
    : 0;
  const seenHere: SeenEntry = {
    x: place.x,
    y: place.y,
    angle: place.angle,
    taper: place.taper,
    gain,
    evidence: gain > 0 ? evidenceThere : mostEvidence,
    length,
    runsOut,
    farAngle: place.angle,
    heat: heat ? largestNear(map, heat, place.x, place.y, Math.max(1, 0.35 * shaft)) : 0,
    behind: covers(...BEHIND),
    farBehind: covers(...FAR_BEHIND),
    vane: vaneThere,
    direction: belief.direction(place.x, place.y, place.angle),
  };
  const isStrip = gain >= LEAST_ROUGH_GAIN || isHeatedInOthers(seenHere);
  return { ...seenHere, logOdds: isStrip ? belief.logOdds(seenHere) : -Infinity };
}

/** Steps tried when an entry is fitted: its end is sought more finely than a strip's. */
const MOVES = [...TURNS, ...LONG_STEPS, [-1, 0, 0, 0], [1, 0, 0, 0], ...TAPERS] as const;

/** The likeliest entry near a given one. */
function fitted(state: State, start: FoundEntry): FoundEntry {
  const { belief, map } = state;
  const [likely, least, most] = belief.taper(start.x, start.y);
  let best = start;
  let turn = Math.PI / DIRECTIONS;
  let aside = 0.4 * map.shaft;
  let taper = 0.5 * likely;
  // Where it is among strips that overlap is told by all of its length, not by the odds, which saturate.
  const merit = (one: FoundEntry): number => one.logOdds + 0.3 * one.gain;
  for (let round = 0; round < 4; round++) {
    for (let pass = 0; pass < 3; pass++) {
      const from = best;
      const ux = Math.cos(from.angle);
      const uy = Math.sin(from.angle);
      for (const [along, across, turned, tapered] of MOVES) {
        const x = from.x + aside * (along * ux - across * uy);
        const y = from.y + aside * (along * uy + across * ux);
        if (!belief.mayEnter(x, y)) continue;
        const tried = look(state, {
          x,
          y,
          angle: from.angle + turned * turn,
          taper: Math.max(least, Math.min(most, from.taper + tapered * taper)),
        });
        if (merit(tried) > merit(best)) best = tried;
      }
      if (best === from) break;
    }
    turn /= 2;
    aside /= 2;
    taper /= 2;
  }
  return best;
}

/** Centre of a strip near a place on its line, sideways from there; null where nothing is. */
function centreNear(
  { width, height, covered }: ShaftMap,
  x: number,
  y: number,
  ux: number,
  uy: number,
  half: number,
): number | null {
  let weight = 0;
  let sum = 0;
  for (let t = -half; t <= half; t += 0.5) {
    const i = Math.floor(x - t * uy);
    const j = Math.floor(y + t * ux);
    if (i < 0 || j < 0 || i >= width || j >= height) continue;
    const w = Math.max(0, covered[j * width + i]! - 0.3);
    weight += w;
    sum += w * t;
  }
  return weight < 0.25 * half ? null : sum / weight;
}

/** Where the middle of an entry's strip runs, sideways from its straight line, by distance. */
function track(
  map: ShaftMap,
  entry: SeenEntry,
): { aside: number[]; step: number; runsOut: boolean } {
  const { width, height, shaft, seen } = map;
  const ux = Math.cos(entry.angle);
  const uy = Math.sin(entry.angle);
  const step = Math.max(1, shaft / 2);
  const aside: number[] = [];
  let last = 0;
  let there = 0;
  let runsOut = false;
  for (let d = 0; ; d += step) {
    const x = entry.x + d * ux - there * uy;
    const y = entry.y + d * uy + there * ux;
    const [i, j] = [Math.floor(x), Math.floor(y)];
    if (i < 0 || j < 0 || i >= width || j >= height || !seen[j * width + i]) {
      runsOut = d - last < 2 * shaft;
      break;
    }
    const off = centreNear(map, x, y, ux, uy, 0.6 * map.part * widthAt(shaft, entry.taper, d));
    if (off !== null) {
      last = d;
      const most = DRIFT * d;
      there = Math.max(-most, Math.min(most, there + 0.3 * off));
    } else if (d - last > GAP * shaft) break;
    aside.push(there);
  }
  return { aside: aside.slice(0, Math.floor(last / step) + 1), step, runsOut };
}

/** An entry with its strip followed as far as it goes. */
export function followed<T extends SeenEntry>(map: ShaftMap, entry: T): T {
  const { aside, step, runsOut } = track(map, entry);
  const length = Math.max(entry.length, (aside.length - 1) * step);
  const off = aside.at(-1) ?? 0;
  return {
    ...entry,
    length,
    runsOut,
    farAngle: entry.angle + Math.atan2(off, Math.max(1, length)),
  };
}

/** Whether what an entry explains may be seen from another place, behind it included. */
function mayOverlap({ shaft }: ShaftMap, place: Place, entry: FoundEntry): boolean {
  const room = 4 * shaft;
  const [back, ahead] = [-FAR_BEHIND[1] * shaft, AHEAD * shaft];
  const cos = Math.cos(place.angle);
  const sin = Math.sin(place.angle);
  return (
    stretchesMeet(
      place.x + back * cos,
      place.x + ahead * cos,
      entry.x,
      entry.x + entry.length * Math.cos(entry.angle),
      room,
    ) &&
    stretchesMeet(
      place.y + back * sin,
      place.y + ahead * sin,
      entry.y,
      entry.y + entry.length * Math.sin(entry.angle),
      room,
    )
  );
}

/** Whether the stretch from a to b comes nearer to that from c to d than `room`. */
function stretchesMeet(a: number, b: number, c: number, d: number, room: number): boolean {
  return Math.min(a, b) < Math.max(c, d) + room && Math.max(a, b) > Math.min(c, d) - room;
}

/** Marks what an entry and its strip explain. */
function explain({ map, belief, unexplained, heat }: State, entry: FoundEntry): void {
  const { width, height, shaft } = map;
  const ux = Math.cos(entry.angle);
  const uy = Math.sin(entry.angle);
  const { aside, step } = track(map, entry);
  // What leans towards the camera widens more: as long as it may be the same arrow it is no other one.
  const taper = Math.max(entry.taper, belief.taper(entry.x, entry.y)[2]);
  for (let d = -HALO * shaft; d <= entry.length + HALO * shaft; d += 0.5) {
    const along = Math.max(0, d);
    const half = map.part * (widthAt(shaft, taper, along) / 2 + HALO * shaft);
    const middle = aside[Math.min(aside.length - 1, Math.round(along / step))] ?? 0;
    for (let t = middle - half; t <= middle + half; t += 0.5) {
      const i = Math.floor(entry.x + d * ux - t * uy);
      const j = Math.floor(entry.y + d * uy + t * ux);
      if (i >= 0 && j >= 0 && i < width && j < height) unexplained[j * width + i] = 0;
    }
  }
  if (!heat) return;
  const reach = APART * shaft;
  for (let y = Math.floor(entry.y - reach); y <= entry.y + reach; y++) {
    for (let x = Math.floor(entry.x - reach); x <= entry.x + reach; x++) {
      if (x < 0 || y < 0 || x >= width || y >= height) continue;
      if (Math.hypot(x + 0.5 - entry.x, y + 0.5 - entry.y) <= reach) heat[y * width + x] = 0;
    }
  }
}
