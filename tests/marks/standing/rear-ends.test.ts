import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadNetworkRuntime, loadWasmRuntime } from '../../../server/reading/network-runtime.ts';
import { flatToSpot, type FlatFace } from '../../../src/fit/flat/flatten.ts';
import { createNetworkSession } from '../../../src/marks/network/network-session.ts';
import { createRearNetwork, type RearNetwork } from '../../../src/marks/network/rear-network.ts';
import { STRIP_STEP, STRIP_WIDTH, type RearStrip } from '../../../src/marks/network/rear-strip.ts';
import { rearEnds } from '../../../src/marks/standing/rear-ends.ts';
import type { RearView } from '../../../src/marks/standing/rear-view.ts';
import type { StandingArrow } from '../../../src/marks/standing/standing-arrows.ts';
import { stripAlong } from '../../../src/marks/standing/strip-along.ts';

const SIDE = 240;
const MM_PER_PX = 2;
const REAR_SHAFT_MM = 16;
/** Where the shafts end, mm to the right of their entries. */
const END_MM = 400;

/** An arrow that enters on the vertical through the face's centre and is seen to the right. */
const arrow = (yMm: number): StandingArrow => ({
  spot: 0,
  mm: [0, yMm],
  sdMm: 0.5,
  probability: 0.99,
  along: [1, 0],
  lengthMm: END_MM,
  runsOut: false,
  hidden: false,
});

const stretch = { fromMm: 250, toMm: 480, likelyMm: 400, foreshortening: 0.6 };

/** What is seen beside the axis of an arrow, at a distance from its entry. */
function arrowColour(ahead: number, beside: number, fletched: boolean): number[] | null {
  const half = REAR_SHAFT_MM / 2;
  if (ahead < 0 || ahead > END_MM + 22) return null;
  if (Math.abs(beside) < half) return ahead > END_MM ? [240, 120, 30] : [30, 30, 34];
  const along = (END_MM - 40 - ahead) / 110;
  const tall = 34 * Math.min(1, (1 - along) * 1.5);
  const isVane = fletched && along > 0 && along < 1 && Math.abs(beside) < half + tall;
  return isVane ? (beside > 0 ? [220, 40, 60] : [40, 90, 220]) : null;
}

/** Arrows over paper, four samples a pixel. */
function drawn(arrows: readonly { yMm: number; fletched: boolean }[]): FlatFace {
  const flat: FlatFace = {
    raster: { width: SIDE, height: SIDE, data: new Uint8ClampedArray(SIDE * SIDE * 4) },
    spot: 0,
    mmPerPx: MM_PER_PX,
    halfWidthMm: (SIDE * MM_PER_PX) / 2,
    centreMm: [320, 0],
    seen: new Uint8Array(SIDE * SIDE).fill(1),
  };
  for (let row = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++) {
      const sum = [0, 0, 0];
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ] as const) {
        const [x, y] = flatToSpot(flat, [column + dx, row + dy]);
        const colours = arrows.map(({ yMm, fletched }) => arrowColour(x, y - yMm, fletched));
        const colour = colours.find((seen) => seen !== null) ?? [205, 200, 190];
        colour.forEach((value, c) => (sum[c]! += value / 4));
      }
      flat.raster.data.set([...sum, 255], (row * SIDE + column) * 4);
    }
  }
  return flat;
}

const viewOf = (flat: FlatFace, count: number): RearView => ({
  flat,
  rearShaftMm: REAR_SHAFT_MM,
  stretches: Array.from({ length: count }, () => stretch),
});

test('a strip runs along its arrow, six pixels to the shaft', () => {
  const strip = stripAlong(viewOf(drawn([{ yMm: 30, fletched: true }]), 1), arrow(30), stretch);
  const mmPerPx = REAR_SHAFT_MM / 6;
  const red = (aheadMm: number, besidePx: number) => {
    const column = Math.floor((aheadMm - strip.distanceMm(-0.5)) / mmPerPx);
    return strip.planes[(STRIP_WIDTH / 2 + besidePx) * strip.lengthPx + column]! * 255;
  };
  expect(red(300, 0)).toBeCloseTo(30, 0);
  expect(red(END_MM + 10, 0)).toBeCloseTo(240, 0);
  // The strip's rows run down the picture: the lower vane is blue.
  expect(red(300, 6)).toBeLessThan(80);
  expect(red(300, -6)).toBeGreaterThan(180);
  expect(red(300, 25)).toBeCloseTo(205, 0);
  expect(strip.lengthPx % STRIP_STEP).toBe(0);
  expect(strip.planes.at(-1)).toBeCloseTo(0.6, 6);
});

describe('by the trained network', () => {
  const weights = readFileSync('src/marks/network/weights/rear-network.onnx');
  let network: RearNetwork;

  beforeAll(async () => {
    const runtime = await loadNetworkRuntime();
    network = createRearNetwork(await createNetworkSession({ weights, runtime }));
  });
  afterAll(() => network.release());

  test('arrows end where they do, and vanes tell the fletched one', async () => {
    const arrows = [
      { yMm: 70, fletched: true },
      { yMm: -70, fletched: false },
    ];
    const view = viewOf(drawn(arrows), 2);
    const [fletched, bare] = await rearEnds(view, network, [arrow(70), arrow(-70)]);
    for (const [end, yMm] of [
      [fletched, 70],
      [bare, -70],
    ] as const) {
      expect(Math.abs(end!.mm[0] - END_MM)).toBeLessThan(2 * REAR_SHAFT_MM);
      expect(end!.mm[1]).toBe(yMm);
    }
    expect(fletched!.fletched).toBeGreaterThan(0.8);
    expect(bare!.fletched).toBeLessThan(0.2);
  });

  test('machine code, as in Node, and WebAssembly, as in the page, answer the same', async () => {
    const runtime = await loadWasmRuntime();
    const byWasm = createRearNetwork(await createNetworkSession({ weights, runtime }));
    const view = viewOf(drawn([{ yMm: 0, fletched: true }]), 1);
    const strip = stripAlong(view, arrow(0), stretch);
    const [here, there] = [await network.read(strip), await byWasm.read(strip)];
    for (const name of ['end', 'fletched'] as const) {
      here[name].forEach((p, step) => expect(Math.abs(p - there[name][step]!)).toBeLessThan(1e-3));
    }
    await byWasm.release();
  });

  test('nothing ends on bare paper', async () => {
    expect(await rearEnds(viewOf(drawn([]), 1), network, [arrow(0)])).toEqual([null]);
  });
});

describe('whose end it is', () => {
  const empty = drawn([]);

  /** A network that sees the same ends, each with its probability and kind, along every strip. */
  const seeing = (ends: readonly { mm: number; p: number; fletched: number }[]): RearNetwork => ({
    read: ({ lengthPx }: RearStrip) => {
      const steps = lengthPx / STRIP_STEP;
      const { distanceMm } = stripAlong(viewOf(empty, 1), arrow(0), stretch);
      const answer = { end: new Float32Array(steps), fletched: new Float32Array(steps) };
      for (const { mm, p, fletched } of ends) {
        const step = Math.round((mm - distanceMm(0)) / (distanceMm(1) - distanceMm(0)));
        answer.end[step] = p;
        answer.fletched[step] = fletched;
      }
      return Promise.resolve(answer);
    },
    release: () => Promise.resolve(),
  });

  test('one end belongs to one arrow, another farther on to the next', async () => {
    const two = [
      { mm: 400, p: 0.9, fletched: 0.95 },
      { mm: 330, p: 0.5, fletched: 0.05 },
    ];
    const ends = await rearEnds(viewOf(empty, 2), seeing(two), [arrow(0), arrow(12)]);
    expect(ends[0]!.fletched).toBeCloseTo(0.95, 6);
    expect(ends[1]!.fletched).toBeCloseTo(0.05, 6);
    const alone = await rearEnds(viewOf(empty, 2), seeing(two.slice(0, 1)), [arrow(0), arrow(12)]);
    expect(alone[1]).toBeNull();
  });

  test('what is hardly an end, or lies past what the photo shows, is none', async () => {
    const faint = seeing([{ mm: 400, p: 0.3, fletched: 1 }]);
    expect(await rearEnds(viewOf(empty, 1), faint, [arrow(0)])).toEqual([null]);
    const past = seeing([{ mm: 500, p: 0.9, fletched: 1 }]);
    expect(await rearEnds(viewOf(empty, 1), past, [arrow(0)])).toEqual([null]);
  });
});
