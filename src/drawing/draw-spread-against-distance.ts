import { ENGLISH, type Words } from '../words/words.ts';
import type { SpreadAgainstDistance } from '../trends/spread-against-distance.ts';
import { FONT_FAMILY, PAPER } from './palette.ts';
import {
  drawPanel,
  drawPoint,
  drawWhisker,
  FONT_SIZE,
  isNarrow,
  lengthAxis,
  placeOn,
  plotSheet,
  type PlotFrame,
  type PlotOptions,
  type PlotScale,
} from './plot-panel.ts';
import { svg, svgNumber, svgText } from './svg.ts';
import { shortened, textWidth } from './text-width.ts';

const WIDTH = 520;
const LEGEND_LINE = 24;

export interface SpreadSeries {
  readonly name: string;
  readonly trend: SpreadAgainstDistance;
}

/**
 * Spread over distance, both on logarithmic scales, one shape per series (set-up or period), each
 * with its fitted line; a constant angle is the dashed slope. 520 units wide
 * unless told otherwise, a line of its own for each series below.
 */
export function drawSpreadAgainstDistance(
  series: readonly SpreadSeries[],
  options: PlotOptions = {},
): string {
  const { width = WIDTH } = options;
  const narrow = isNarrow(width);
  const frame = { left: narrow ? 44 : 64, right: width - 24, top: 48, bottom: 358 };
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { say, metres } = words;
  const colours = [palette.fletched, palette.bare, palette.ink, palette.muted];
  const points = series.flatMap(({ trend }) => trend.points);
  const sheet = {
    width,
    height: frame.bottom + 44 + LEGEND_LINE * Math.max(1, series.length),
    description: say('Spread against distance for {names}', {
      names: series.map(({ name }) => name).join(', '),
    }),
    palette,
    fontFamily: options.fontFamily ?? FONT_FAMILY,
  };
  if (points.length === 0) {
    return plotSheet(sheet, svgText({ x: frame.left, y: frame.top, fill: palette.muted }, say('No groups to show yet.'))); // prettier-ignore
  }
  const distances = [...new Set(points.map((point) => point.distanceM))].sort((a, b) => a - b);
  const reach = points.flatMap((point) => point.interval90Mm);
  const x: PlotScale = {
    kind: 'log',
    domain: [distances[0]! / 1.15, distances.at(-1)! * 1.15],
    range: [frame.left, frame.right],
  };
  const y: PlotScale = {
    kind: 'log',
    domain: [Math.min(...reach) / 1.1, Math.max(...reach) * 1.1],
    range: [frame.bottom, frame.top],
  };
  const parts = [
    drawPanel(frame, {
      x: { scale: x, ticks: apart(distances, x), label: metres },
      y: lengthAxis(y, logTicks, words),
      title: say(narrow ? 'Fletched spread, {unit}' : 'Spread of fletched arrows, {unit}', {
        unit: words.units.length,
      }),
      palette,
    }),
  ];
  for (const [i, { trend }] of series.entries()) {
    const colour = colours[i % colours.length]!;
    const own = trend.points.map((point) => point.distanceM);
    if (trend.line && trend.slope) {
      const { referenceM, sigmaMm } = trend.line;
      const ends = [Math.min(...own), Math.max(...own)] as const;
      const line = (slope: number) =>
        ends.map(
          (m) =>
            [placeOn(x, m), placeOn(y, sigmaMm * (m / referenceM) ** slope)] as [number, number],
        );
      const [from, to] = line(trend.slope.mean);
      const steady = line(1);
      parts.push(
        svg('path', {
          d: `M${steady.map((p) => p.map(svgNumber).join(' ')).join('L')}`,
          stroke: colour,
          'stroke-width': 1,
          'stroke-dasharray': '2 5',
          fill: 'none',
        }),
        drawWhisker(from!, to!, { colour, width: 2 }),
      );
    }
    const aside = (i - (series.length - 1) / 2) * 8;
    for (const { distanceM, sigmaMm, interval90Mm } of trend.points) {
      const at = placeOn(x, distanceM) + aside;
      parts.push(
        drawWhisker([at, placeOn(y, interval90Mm[0])], [at, placeOn(y, interval90Mm[1])], {
          colour,
        }),
        drawPoint({ at: [at, placeOn(y, sigmaMm)], series: i, colour, palette }),
      );
    }
  }
  return plotSheet(sheet, ...parts, ...legend(series, { frame, colours, palette, words }));
}

function legend(
  series: readonly SpreadSeries[],
  {
    frame,
    colours,
    palette,
    words,
  }: {
    readonly frame: PlotFrame;
    readonly colours: readonly string[];
    readonly palette: typeof PAPER;
    readonly words: Words;
  },
): string[] {
  return series.flatMap(({ name, trend }, i) => {
    const y = frame.bottom + 50 + LEGEND_LINE * i;
    const slope = trend.slope
      ? words.say(': slope {slope}', { slope: words.number(trend.slope.mean, 2) })
      : '';
    const room = frame.right - frame.left - 16 - textWidth(slope, FONT_SIZE);
    return [
      drawPoint({ at: [frame.left + 5, y - 5], series: i, colour: colours[i % colours.length]!, palette }), // prettier-ignore
      svgText(
        { x: frame.left + 18, y, fill: palette.ink },
        shortened(name, room, FONT_SIZE) + slope,
      ),
    ];
  });
}

/** Distances whose labels do not run into one another. */
function apart(distances: readonly number[], x: PlotScale): number[] {
  let last = -Infinity;
  return distances.filter((distance) => {
    const at = placeOn(x, distance);
    if (at - last < 44) return false;
    last = at;
    return true;
  });
}

function logTicks([low, high]: readonly [number, number]): number[] {
  const ticks: number[] = [];
  for (let power = 10 ** Math.floor(Math.log10(low)); power <= high; power *= 10) {
    for (const n of [1, 2, 3, 5, 7]) {
      const tick = n * power;
      if (tick >= low && tick <= high) ticks.push(Number(tick.toPrecision(6)));
    }
  }
  return ticks;
}
