import { writtenAs } from '../words/units.ts';
import type { Words } from '../words/words.ts';
import type { DrawingOptions } from './draw-groups.ts';
import type { Palette } from './palette.ts';
import { svg, svgNumber, svgText } from './svg.ts';

/** Of a drawing's text, in its units: drawings are narrow enough to be read on a phone's width. */
export const FONT_SIZE = 14;

export interface PlotOptions extends DrawingOptions {
  /**
   * Of the drawing, in its units: given the width that there is on a screen, its letters are as large as
   * those around it. @default what suits paper and a wide screen
   */
  readonly width?: number;
}

/** Narrower drawings have no room for long titles, or for two things beside each other. */
const NARROW = 440;

export function isNarrow(width: number): boolean {
  return width < NARROW;
}

/** From a quantity to a coordinate of the drawing. */
export interface PlotScale {
  readonly kind: 'linear' | 'log';
  readonly domain: readonly [number, number];
  /** Coordinates of the two ends of the domain. */
  readonly range: readonly [number, number];
}

export function placeOn({ kind, domain, range }: PlotScale, value: number): number {
  const f = kind === 'log' ? Math.log : (x: number) => x;
  const share = (f(value) - f(domain[0])) / (f(domain[1]) - f(domain[0]));
  return range[0] + share * (range[1] - range[0]);
}

/** Round values within a linear domain, about so many. */
export function roundTicks([low, high]: readonly [number, number], about: number): number[] {
  const raw = (high - low) / Math.max(1, about);
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((n) => n * power).find((one) => one >= raw * 0.999)!;
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++) {
    ticks.push(Number((k * step).toPrecision(12)));
  }
  return ticks;
}

/** A linear domain around values with a little air; never of no width. */
export function domainAround(values: readonly number[], least: number): [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const air = Math.max(0.08 * (high - low), (least - (high - low)) / 2, 0);
  return [low - air, high + air];
}

export interface PlotFrame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface AxisLook {
  readonly scale: PlotScale;
  readonly ticks: readonly number[];
  readonly label: (tick: number) => string;
}

/** The figure of a tick, without the digits that arithmetic leaves. */
export function tickLabel(tick: number, { number }: Words): string {
  return number(Number(svgNumber(tick)));
}

/**
 * An axis of millimetres, whose ticks are round in the unit that lengths are written in.
 * @param ticksOf finds round values of a domain
 */
export function lengthAxis(
  scale: PlotScale,
  ticksOf: (domain: readonly [number, number]) => readonly number[],
  words: Words,
): AxisLook {
  const { per } = writtenAs('mm', words.units);
  const [low, high] = scale.domain;
  return {
    scale,
    ticks: ticksOf([low * per, high * per]).map((tick) => tick / per),
    label: (tick) => tickLabel(tick * per, words),
  };
}

/** Hairlines with their figures, a title above: the ground that points are drawn on. */
export function drawPanel(
  frame: PlotFrame,
  { x, y, title, palette }: { x: AxisLook | null; y: AxisLook; title: string; palette: Palette },
): string {
  const parts: string[] = [];
  for (const tick of y.ticks) {
    const at = placeOn(y.scale, tick);
    parts.push(
      svg('path', {
        d: `M${svgNumber(frame.left)} ${svgNumber(at)}H${svgNumber(frame.right)}`,
        stroke: palette.line,
        'stroke-width': 0.6,
        opacity: 0.6,
      }),
      svgText(
        { x: frame.left - 8, y: at + 4, 'text-anchor': 'end', fill: palette.muted },
        y.label(tick),
      ),
    );
  }
  for (const tick of x?.ticks ?? []) {
    const at = placeOn(x!.scale, tick);
    parts.push(
      svg('path', {
        d: `M${svgNumber(at)} ${svgNumber(frame.bottom)}v5`,
        stroke: palette.line,
        'stroke-width': 1,
      }),
      svgText(
        { x: at, y: frame.bottom + 19, 'text-anchor': 'middle', fill: palette.muted },
        x!.label(tick),
      ),
    );
  }
  parts.push(
    svgText(
      {
        x: frame.left,
        y: frame.top - 10,
        fill: palette.ink,
        'font-weight': 600,
        stroke: palette.casing,
        'stroke-width': 5,
        'stroke-linejoin': 'round',
        'paint-order': 'stroke',
      },
      title,
    ),
  );
  return svg('g', { class: 'panel' }, ...parts);
}

/** Signs of series, told apart by shape and by being open or filled, not by colour alone. */
const SHAPES = ['M-1 0A1 1 0 1 1 1 0A1 1 0 1 1 -1 0Z', 'M-0.9 -0.9H0.9V0.9H-0.9Z', 'M0 -1.15L1.05 0.8H-1.05Z', 'M0 -1.2L1.2 0L0 1.2L-1.2 0Z'] as const; // prettier-ignore

export interface PointLook {
  readonly at: readonly [number, number];
  /** Which series, from 0. */
  readonly series: number;
  readonly colour: string;
  readonly palette: Palette;
  /** @default 5 */
  readonly radius?: number;
}

export function drawPoint({ at, series, colour, palette, radius = 5 }: PointLook): string {
  const open = Math.floor(series / SHAPES.length) % 2 === 1;
  return svg('path', {
    d: SHAPES[series % SHAPES.length]!,
    transform: `translate(${svgNumber(at[0])} ${svgNumber(at[1])}) scale(${svgNumber(radius)})`,
    fill: open ? palette.casing : colour,
    stroke: open ? colour : palette.casing,
    'stroke-width': (open ? 2 : 1.4) / radius,
  });
}

/** A whisker from one coordinate to another. */
export function drawWhisker(
  from: readonly [number, number],
  to: readonly [number, number],
  look: { readonly colour: string; readonly width?: number },
): string {
  return svg('path', {
    d: `M${svgNumber(from[0])} ${svgNumber(from[1])}L${svgNumber(to[0])} ${svgNumber(to[1])}`,
    stroke: look.colour,
    'stroke-width': look.width ?? 1.5,
    'stroke-linecap': 'round',
    fill: 'none',
  });
}

export interface Sheet {
  readonly width: number;
  readonly height: number;
  /** Read out in place of the picture. */
  readonly description: string;
  readonly palette: Palette;
  readonly fontFamily: string;
}

/** The whole drawing with its ground and a description for those who cannot see it. */
export function plotSheet(
  { width, height, description, palette, fontFamily }: Sheet,
  ...children: string[]
): string {
  return svg(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${svgNumber(width)} ${svgNumber(height)}`,
      role: 'img',
      'aria-label': description,
      'font-family': fontFamily,
      'font-size': FONT_SIZE,
    },
    svg('rect', { width, height, fill: palette.background }),
    ...children,
  );
}
