import type { SpreadAgainstDistance } from '../trends/spread-against-distance.ts';
import type { DrawingOptions } from './draw-groups.ts';
import { FONT_FAMILY, PAPER } from './palette.ts';
import {
  drawPanel,
  drawPoint,
  drawWhisker,
  placeOn,
  plotSheet,
  type PlotScale,
} from './plot-panel.ts';
import { svg, svgNumber, svgText } from './svg.ts';

const WIDTH = 560;
const HEIGHT = 420;
const FRAME = { left: 64, right: WIDTH - 24, top: 48, bottom: HEIGHT - 62 };

export interface SpreadSeries {
  readonly name: string;
  readonly trend: SpreadAgainstDistance;
}

/**
 * Spread over distance, both on logarithmic scales, one shape per series (set-up or period), each
 * with its fitted line; a constant angle is the dashed slope. 560 x 420 units.
 */
export function drawSpreadAgainstDistance(
  series: readonly SpreadSeries[],
  options: DrawingOptions = {},
): string {
  const palette = options.palette ?? PAPER;
  const colours = [palette.fletched, palette.bare, palette.ink, palette.muted];
  const points = series.flatMap(({ trend }) => trend.points);
  const sheet = {
    width: WIDTH,
    height: HEIGHT,
    description: `Spread against distance for ${series.map(({ name }) => name).join(', ')}`,
    palette,
    fontFamily: options.fontFamily ?? FONT_FAMILY,
  };
  if (points.length === 0) {
    return plotSheet(sheet, svgText({ x: FRAME.left, y: FRAME.top, fill: palette.muted }, 'No groups to show yet.')); // prettier-ignore
  }
  const distances = [...new Set(points.map((point) => point.distanceM))].sort((a, b) => a - b);
  const reach = points.flatMap((point) => point.interval90Mm);
  const x: PlotScale = {
    kind: 'log',
    domain: [distances[0]! / 1.15, distances.at(-1)! * 1.15],
    range: [FRAME.left, FRAME.right],
  };
  const y: PlotScale = {
    kind: 'log',
    domain: [Math.min(...reach) / 1.1, Math.max(...reach) * 1.1],
    range: [FRAME.bottom, FRAME.top],
  };
  const parts = [
    drawPanel(FRAME, {
      x: { scale: x, ticks: apart(distances, x), label: (tick) => `${svgNumber(tick)} m` },
      y: { scale: y, ticks: logTicks(y.domain), label: (tick) => `${svgNumber(tick)}` },
      title: 'Spread of fletched arrows, mm',
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
  return plotSheet(sheet, ...parts, ...legend(series, colours, palette));
}

function legend(
  series: readonly SpreadSeries[],
  colours: readonly string[],
  palette: typeof PAPER,
): string[] {
  let at = FRAME.left;
  return series.flatMap(({ name, trend }, i) => {
    const text = trend.slope ? `${name}: slope ${trend.slope.mean.toFixed(2)}` : name;
    const point = drawPoint({ at: [at + 5, HEIGHT - 18], series: i, colour: colours[i % colours.length]!, palette }); // prettier-ignore
    const label = svgText({ x: at + 16, y: HEIGHT - 13, fill: palette.ink }, text);
    at += 40 + 7.2 * text.length;
    return [point, label];
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
