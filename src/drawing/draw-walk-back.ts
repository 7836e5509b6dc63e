import { ENGLISH } from '../words/words.ts';
import type { WalkBack } from '../trends/walk-back.ts';
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
import { svgText } from './svg.ts';

const WIDTH = 460;
const HEIGHT = 460;

/**
 * A walk-back series seen from above: distance away from the archer, sideways position of the
 * fletched centre with its 90 % interval, and the line of impact. 460 units high and, unless told otherwise, wide.
 */
export function drawWalkBack(walk: WalkBack, options: PlotOptions = {}): string {
  const { width = WIDTH } = options;
  const narrow = isNarrow(width);
  const frame = { left: narrow ? 48 : 64, right: width - 24, top: 48, bottom: HEIGHT - 52 };
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { say, inSlope, slopeUnit, metres } = words;
  const sheet = {
    width,
    height: HEIGHT,
    description: walk.drift
      ? say('Line of impact over {n} distances, drifting {drift} {unit} to the right', {
          n: walk.points.length,
          drift: inSlope(walk.drift.mrad, 2),
          unit: slopeUnit,
        })
      : say('Line of impact: too few distances yet'),
    palette,
    fontFamily: options.fontFamily ?? FONT_FAMILY,
  };
  if (walk.points.length === 0) {
    return plotSheet(sheet, svgText({ x: frame.left, y: frame.top, fill: palette.muted }, say('No groups to show yet.'))); // prettier-ignore
  }
  const half = (seMm: number) => 1.645 * seMm;
  const across = walk.points.flatMap(({ mm, seMm }) => [mm[0] - half(seMm), mm[0] + half(seMm)]);
  const far = walk.points.map((point) => point.distanceM);
  const x: PlotScale = {
    kind: 'linear',
    domain: domainAround([...across, 0], 40),
    range: [frame.left, frame.right],
  };
  const y: PlotScale = {
    kind: 'linear',
    domain: domainAround(far, 10),
    range: [frame.bottom, frame.top],
  };
  const parts = [
    drawPanel(frame, {
      x: lengthAxis(x, (domain) => roundTicks(domain, narrow ? 3 : 5), words),
      y: { scale: y, ticks: roundTicks(y.domain, 5), label: metres },
      title: say(narrow ? 'Fletched, from above' : 'Where the fletched arrows land, from above'),
      palette,
    }),
    drawWhisker([placeOn(x, 0), frame.bottom], [placeOn(x, 0), frame.top], { colour: palette.ink, width: 1 }), // prettier-ignore
    svgText(
      {
        x: (frame.left + frame.right) / 2,
        y: HEIGHT - 12,
        'text-anchor': 'middle',
        fill: palette.muted,
      },
      say('left, {unit} from the aim, right', { unit: words.units.length }),
    ),
  ];
  if (walk.line && walk.drift) {
    const at = (m: number): [number, number] => [
      placeOn(x, walk.line!.mm + walk.drift!.mrad * (m - walk.line!.atM)),
      placeOn(y, m),
    ];
    parts.push(drawWhisker(at(Math.min(...far)), at(Math.max(...far)), { colour: palette.bare, width: 2.5 })); // prettier-ignore
  }
  for (const { distanceM, mm, seMm } of walk.points) {
    const height = placeOn(y, distanceM);
    parts.push(
      drawWhisker([placeOn(x, mm[0] - half(seMm)), height], [placeOn(x, mm[0] + half(seMm)), height], { colour: palette.fletched }), // prettier-ignore
      drawPoint({ at: [placeOn(x, mm[0]), height], series: 0, colour: palette.fletched, palette }),
    );
  }
  return plotSheet(sheet, ...parts);
}
