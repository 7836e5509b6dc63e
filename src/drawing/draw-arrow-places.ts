import { ENGLISH } from '../words/words.ts';
import type { ArrowPlaces } from '../trends/arrow-places.ts';
import { FONT_FAMILY, PAPER } from './palette.ts';
import {
  domainAround,
  drawPanel,
  drawPoint,
  drawWhisker,
  isNarrow,
  lengthAxis,
  placeOn,
  plotSheet,
  roundTicks,
  type PlotOptions,
  type PlotScale,
} from './plot-panel.ts';
import { svg, svgText } from './svg.ts';

const WIDTH = 460;
const LEFT = 56;
const RIGHT = 20;
const TOP = 44;
const BELOW = 48;

/**
 * Where each arrow lands beside the others, at the distance of the last end, with its 90 % interval to
 * either side; the ring is one spread of a single arrow. Same scale to the side and in height; 460 units
 * wide unless told otherwise.
 */
export function drawArrowPlaces(places: ArrowPlaces, options: PlotOptions = {}): string {
  const { width = WIDTH } = options;
  const palette = options.palette ?? PAPER;
  const { arrows, kind, distanceM, sigmaMrad } = places;
  const { words = ENGLISH } = options;
  const { say } = words;
  const what = say(kind === 'bare' ? 'Bare shafts' : 'Arrows');
  const side = width - LEFT - RIGHT;
  const frame = { left: LEFT, right: width - RIGHT, top: TOP, bottom: TOP + side };
  const apart = arrows.filter(({ verdict }) => verdict === 'apart');
  const sheet = {
    width,
    height: arrows.length === 0 ? TOP + 40 : TOP + side + BELOW,
    description:
      arrows.length === 0
        ? say('{what}: too few ends yet', { what })
        : say('{what} by their numbers: {which}', {
            what,
            which:
              apart.length === 0
                ? say('none lands apart')
                : say('{arrows} apart', {
                    arrows: apart.map(({ arrowNumber }) => arrowNumber).join(', '),
                  }),
          }),
    palette,
    fontFamily: options.fontFamily ?? FONT_FAMILY,
  };
  if (arrows.length === 0 || distanceM === null || sigmaMrad === null) {
    return plotSheet(
      sheet,
      svgText({ x: 12, y: TOP, fill: palette.muted }, say('Too few ends yet.')),
    );
  }
  const shown = arrows.map((arrow) => ({
    ...arrow,
    mm: arrow.mrad.map((one) => one * distanceM) as [number, number],
    half: arrow.half90Mrad * distanceM,
  }));
  const sigmaMm = sigmaMrad * distanceM;
  const extent = Math.max(
    sigmaMm,
    ...shown.flatMap(({ mm, half }) => mm.map((one) => Math.abs(one) + half)),
  );
  const domain = domainAround([-extent, extent], 1);
  const x: PlotScale = { kind: 'linear', domain, range: [frame.left, frame.right] };
  const y: PlotScale = { kind: 'linear', domain, range: [frame.bottom, frame.top] };
  const ticksOf = (of: readonly [number, number]) => roundTicks(of, isNarrow(width) ? 4 : 6);
  return plotSheet(
    sheet,
    drawPanel(frame, {
      x: lengthAxis(x, ticksOf, words),
      y: lengthAxis(y, ticksOf, words),
      title: say('{what} by number, at {distance}', { what, distance: words.metres(distanceM) }),
      palette,
    }),
    svgText(
      {
        x: (frame.left + frame.right) / 2,
        y: sheet.height - 8,
        'text-anchor': 'middle',
        fill: palette.muted,
      },
      say('left, {unit} from the others, right', { unit: words.units.length }),
    ),
    svg('circle', {
      cx: placeOn(x, 0),
      cy: placeOn(y, 0),
      r: placeOn(x, sigmaMm) - placeOn(x, 0),
      fill: 'none',
      stroke: palette.muted,
      'stroke-width': 1.2,
      'stroke-dasharray': '4 4',
    }),
    ...shown.flatMap(({ mm, half, verdict }) => {
      const colour = verdict === 'apart' ? palette.bare : palette.muted;
      const [px, py] = [placeOn(x, mm[0]), placeOn(y, mm[1])];
      const reach = placeOn(x, half) - placeOn(x, 0);
      return [
        drawWhisker([px - reach, py], [px + reach, py], { colour, width: 1 }),
        drawWhisker([px, py - reach], [px, py + reach], { colour, width: 1 }),
      ];
    }),
    ...shown.map(({ mm, verdict, arrowNumber }) => {
      const colour = verdict === 'apart' ? palette.bare : palette.fletched;
      const at = [placeOn(x, mm[0]), placeOn(y, mm[1])] as const;
      const series = verdict === 'apart' ? 1 : 0;
      return [
        drawPoint({ at, series, colour, palette, radius: 4 }),
        svgText(
          {
            x: at[0] + 7,
            y: at[1] - 6,
            fill: palette.ink,
            'font-weight': verdict === 'apart' ? 700 : 400,
            stroke: palette.casing,
            'stroke-width': 3,
            'paint-order': 'stroke',
          },
          arrowNumber,
        ),
      ].join('');
    }),
  );
}
