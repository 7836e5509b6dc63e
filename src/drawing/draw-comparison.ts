import { ENGLISH, type Words } from '../words/words.ts';
import type { Comparison, Difference } from '../trends/compare-set-ups.ts';
import { FONT_FAMILY, PAPER, type Palette } from './palette.ts';
import {
  drawPoint,
  drawWhisker,
  FONT_SIZE,
  isNarrow,
  placeOn,
  plotSheet,
  roundTicks,
  tickLabel,
  type PlotOptions,
  type PlotScale,
} from './plot-panel.ts';
import { svg, svgText, type SvgAttributes } from './svg.ts';
import { shortened, wrapWords } from './text-width.ts';

const WIDTH = 560;
const ROW = 122;
/** Of a line of text of its own, where a row's title and figures do not fit beside each other. */
const LINE = 20;
/** Between the two names. */
const BETWEEN = 24;
const TOP = 76;

/**
 * Two set-ups side by side: how far apart they are by value and by spread, with 90 % intervals, the
 * better one's side always that way. 560 units wide unless told otherwise.
 */
export function drawComparison(
  comparison: Comparison,
  names: { readonly first: string; readonly second: string },
  options: PlotOptions = {},
): string {
  const { width = WIDTH } = options;
  const narrow = isNarrow(width);
  const left = narrow ? 20 : 40;
  const right = width - left;
  const rowHeight = ROW + (narrow ? 2 * LINE : 0);
  const room = (right - left - BETWEEN) / 2;
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { say } = words;
  const rows: string[] = [];
  const { byValue, bySpread } = comparison;
  const ticks = narrow ? 4 : 6;
  if (byValue) {
    const half = Math.max(0.5, ...byValue.interval90.map(Math.abs)) * 1.15;
    rows.push(
      drawRow(byValue, {
        title: say('Points an arrow'),
        label: say('{points} points an arrow', {
          points: words.number(Math.abs(byValue.effect), 2),
        }),
        scale: { kind: 'linear', domain: [-half, half], range: [left, right] },
        none: 0,
        ticks: roundTicks([-half, half], ticks),
        top: TOP,
        narrow,
        palette,
        words,
      }),
    );
  }
  if (bySpread) {
    const wide = Math.max(1.3, ...bySpread.interval90.map((x) => Math.max(x, 1 / x))) * 1.05;
    rows.push(
      drawRow(bySpread, {
        title: say('Tighter group'),
        label: say('second {times} times as wide', { times: words.number(bySpread.effect, 2) }),
        // Less spread is better: the second's side is where the ratio is below one.
        scale: { kind: 'log', domain: [wide, 1 / wide], range: [left, right] },
        none: 1,
        ticks: roundTicks([1 / wide, wide], ticks),
        top: TOP + (byValue ? rowHeight : 0),
        narrow,
        palette,
        words,
      }),
    );
  }
  const height = TOP + Math.max(1, rows.length) * rowHeight;
  const middle = width / 2;
  return plotSheet(
    {
      width,
      height,
      description: comparison.summary,
      palette,
      fontFamily: options.fontFamily ?? FONT_FAMILY,
    },
    side(names.first, `◂ ${say('better')}`, room, {
      x: left,
      'text-anchor': 'start',
      fill: palette.fletched,
    }),
    side(names.second, `${say('better')} ▸`, room, {
      x: right,
      'text-anchor': 'end',
      fill: palette.bare,
    }),
    ...(rows.length > 0
      ? rows
      : [
          svgText(
            { x: middle, y: TOP + 28, 'text-anchor': 'middle', fill: palette.muted },
            say('Nothing to compare yet.'),
          ),
        ]),
  );
}

function side(name: string, better: string, room: number, look: SvgAttributes): string {
  return (
    svgText({ ...look, y: 26, 'font-weight': 600 }, shortened(name, room, FONT_SIZE)) +
    svgText({ ...look, y: 46 }, better)
  );
}

function drawRow(
  difference: Difference,
  look: {
    readonly title: string;
    readonly label: string;
    readonly scale: PlotScale;
    readonly none: number;
    readonly ticks: readonly number[];
    readonly top: number;
    readonly narrow: boolean;
    readonly palette: Palette;
    readonly words: Words;
  },
): string {
  const { scale, palette, top, narrow } = look;
  const { say, percent } = look.words;
  const below = narrow ? 2 * LINE : 0;
  const [from, to] = [Math.min(...scale.range), Math.max(...scale.range)];
  const at = (value: number): [number, number] => [placeOn(scale, value), top + 56 + below];
  const p = Math.max(difference.pSecondBetter, 1 - difference.pSecondBetter);
  const ahead = difference.pSecondBetter >= 0.5;
  const colour = ahead ? palette.bare : palette.fletched;
  const none = at(look.none);
  const odds = `${look.label}, ${percent(Math.round(Math.min(0.99, p) * 100))}`;
  const words = difference.verdict === 'undecided' ? `${odds}, ${say('undecided')}` : odds;
  return svg(
    'g',
    {},
    svgText({ x: from, y: top + 14, fill: palette.ink, 'font-weight': 600 }, look.title),
    ...(narrow
      ? wrapWords(words, to - from, FONT_SIZE).map((line, i) =>
          svgText({ x: from, y: top + 14 + LINE * (i + 1), fill: palette.muted }, line),
        )
      : [svgText({ x: to, y: top + 14, 'text-anchor': 'end', fill: palette.muted }, words)]),
    drawWhisker([from, none[1]], [to, none[1]], { colour: palette.line, width: 1 }),
    ...look.ticks.map((tick) =>
      svgText(
        {
          x: at(tick)[0],
          y: none[1] + 38,
          'text-anchor': 'middle',
          fill: palette.muted,
          'font-size': 12,
        },
        tickLabel(tick, look.words),
      ),
    ),
    drawWhisker([none[0], none[1] - 22], [none[0], none[1] + 22], {
      colour: palette.ink,
      width: 1,
    }),
    drawWhisker(at(difference.interval90[0]), at(difference.interval90[1]), { colour, width: 7 }),
    drawPoint({ at: at(difference.effect), series: ahead ? 1 : 0, colour, palette, radius: 8 }),
  );
}
