import type { Face } from '../../src/face/faces.ts';
import type { Random } from './random.ts';
import type { Hole, Print, Rgb } from './scene.ts';

const linear = (srgb: number): number => Math.pow(srgb / 255, 2.2);
export const colour = (r: number, g: number, b: number): Rgb => [linear(r), linear(g), linear(b)];

function fade(ink: Rgb, amount: number): Rgb {
  const paper = 0.75;
  return [0, 1, 2].map((k) => ink[k]! * (1 - amount) + paper * amount) as unknown as Rgb;
}

export function jitter(ink: Rgb, random: Random, sd: number): Rgb {
  return ink.map((v) => Math.max(0.004, v * Math.exp(random.normal(sd)))) as unknown as Rgb;
}

export function randomPrint(random: Random): Print {
  const fading = random.chance(0.4) ? random.uniform(0.02, 0.3) : 0;
  const ink = (base: Rgb): Rgb => fade(jitter(base, random, 0.12), fading);
  return {
    inks: {
      yellow: ink(random.pick([colour(252, 222, 30), colour(255, 236, 90), colour(245, 200, 20)])),
      red: ink(random.pick([colour(226, 40, 48), colour(235, 70, 80), colour(200, 30, 40)])),
      blue: ink(random.pick([colour(60, 170, 225), colour(30, 130, 200), colour(95, 190, 230)])),
      // 282C; of one colour in every scene.
      navy: colour(4, 30, 66),
      black: ink(random.pick([colour(28, 28, 30), colour(50, 48, 50), colour(20, 24, 30)])),
      white: jitter(
        random.pick([colour(240, 240, 238), colour(232, 226, 212), colour(225, 230, 235)]),
        random,
        0.03,
      ),
    },
    lineWidthMm: random.uniform(0.5, 1.9),
    gridPitchMm: random.uniform(4, 14),
    gridStrength: random.chance(0.35) ? random.uniform(0.03, 0.14) : 0,
    numberAngle: random.chance(0.75)
      ? random.pick([0, Math.PI / 2, Math.PI / 4, -Math.PI / 4])
      : NaN,
    logo: random.chance(0.6) ? jitter(colour(40, 60, 140), random, 0.8) : null,
    darkRimMm: random.chance(0.5) ? random.uniform(0.3, 1.2) : 0,
    mottle: random.uniform(0, 0.06),
  };
}

export function randomHole(
  random: Random,
  mm: readonly [number, number],
  shaftMm: number,
  worn: number,
): Hole {
  return {
    mm,
    // Paper and foam close again: of some old holes little more than a dot is left.
    radiusMm: (shaftMm / 2) * random.uniform(0.72, 1.0) * (1 - 0.85 * worn * random.uniform() ** 2),
    seed: random.int(1, 1e6),
    raggedness: random.uniform(0.05, 0.3),
    fill: random.chance(0.2) ? random.uniform(0.1, 0.5) : random.uniform(0, 0.08),
    rim: random.uniform(0, 0.8),
  };
}

/** A point drawn towards the middle where it lies further out than `most`. */
export function within(most: number, [x, y]: readonly [number, number]): readonly [number, number] {
  const share = Math.min(1, most / Math.hypot(x, y));
  return [x * share, y * share];
}

/** How far the centres of a sheet's spots lie from its middle, across and up. */
export function spotSpreadMm({ spotCentresMm }: Face): readonly [number, number] {
  const along = (axis: 0 | 1): number =>
    Math.max(...spotCentresMm.map((centre) => Math.abs(centre[axis])));
  return [along(0), along(1)];
}
