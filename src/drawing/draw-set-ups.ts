import { ENGLISH, type Words } from '../words/words.ts';
import { FACES } from '../face/faces.ts';
import type { SetUpsFigures } from '../trends/set-up-figures.ts';
import type { DrawingOptions } from './draw-groups.ts';
import { FONT_FAMILY, PAPER, type Palette } from './palette.ts';
import {
  domainAround,
  drawPoint,
  drawWhisker,
  placeOn,
  plotSheet,
  roundTicks,
  tickLabel,
  type PlotScale,
} from './plot-panel.ts';
import { svg, svgNumber, svgText } from './svg.ts';
import { shortened, wrapWords } from './text-width.ts';

const WIDTH = 560;
const NAMES = { left: 16, right: 236 } as const;
const SPREAD = { left: 252, right: 388 } as const;
const VALUE = { left: 410, right: 544 } as const;
const TOP = 84;
const LINE = 17;
const SMALL = 12;
/** Bold letters are wider. */
const NAME_SIZE = 15;

export interface SetUpRow {
  readonly id: string;
  readonly name: string;
  /** ISO date and time. */
  readonly date: string;
  /** What differs from the set-up before it, in words. */
  readonly changes: readonly string[];
}

/**
 * A bow's set-ups, newest first, with what changed at each, and how each grouped and scored with
 * 90 % intervals. 560 units wide.
 */
export function drawSetUps(
  rows: readonly SetUpRow[],
  figures: SetUpsFigures,
  options: DrawingOptions = {},
): string {
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { say } = words;
  const byId = new Map(figures.setUps.map((one) => [one.setUpId, one]));
  const newestFirst = [...rows].reverse().map((row) => {
    const room = NAMES.right - NAMES.left;
    const name = firstLines(wrapWords(row.name, room, NAME_SIZE), room);
    const changes = row.changes.length > 0 ? row.changes : [say('the first of this bow')];
    const notes = [words.sheetDay(row.date), ...changes].flatMap((one) =>
      wrapWords(one, room, SMALL),
    );
    return { row, name, notes, height: (name.length + notes.length) * LINE + 18 };
  });
  const height = TOP + newestFirst.reduce((sum, one) => sum + one.height, 0) + 44;
  const spread = scaleOf(
    figures.setUps.flatMap(({ spread: s }) => s?.interval90 ?? []),
    { least: 0.4, range: [SPREAD.left, SPREAD.right] },
  );
  const value = scaleOf(
    figures.setUps.flatMap(({ average }) => average?.interval90 ?? []),
    { least: 0.4, range: [VALUE.left, VALUE.right] },
  );
  const { common } = figures;
  const parts = [
    heading(say('Set-up'), [say('what changed')], NAMES.left, palette),
    heading(say('Spread'), ['mrad'], SPREAD.left, palette),
    heading(
      say('Points an arrow'),
      common ? [words.metres(common.distanceM), say(FACES[common.face].name)] : [],
      VALUE.left,
      palette,
    ),
  ];
  let top = TOP;
  for (const { row, name, notes, height: tall } of newestFirst) {
    const middle = top + tall / 2;
    const own = byId.get(row.id);
    parts.push(
      svg('path', {
        d: `M${NAMES.left} ${svgNumber(top)}H${VALUE.right}`,
        stroke: palette.line,
        'stroke-width': 0.6,
      }),
      ...[...name, ...notes].map((line, i) =>
        svgText(
          {
            x: NAMES.left,
            y: top + 21 + LINE * i,
            ...(i < name.length
              ? { fill: palette.ink, 'font-weight': 600 }
              : { fill: palette.muted, 'font-size': SMALL }),
          },
          line,
        ),
      ),
    );
    if (own?.spread && spread) {
      const { sigmaMrad, interval90 } = own.spread;
      parts.push(drawEstimate(spread, middle, { at: sigmaMrad, interval90, series: 0, colour: palette.fletched, palette })); // prettier-ignore
    }
    if (own?.average && value) {
      const { interval90, arrows } = own.average;
      parts.push(
        drawEstimate(value, middle, { at: own.average.value, interval90, series: 1, colour: palette.bare, palette }), // prettier-ignore
        svgText(
          { x: VALUE.right, y: top + 16, 'text-anchor': 'end', fill: palette.muted, 'font-size': SMALL }, // prettier-ignore
          words.count(arrows, '{n} arrow', '{n} arrows'),
        ),
      );
    }
    if (!own) {
      parts.push(
        svgText({ x: SPREAD.left, y: middle + 4, fill: palette.muted, 'font-size': SMALL }, say('not shot yet')), // prettier-ignore
      );
    }
    top += tall;
  }
  for (const scale of [spread, value]) {
    if (scale) parts.push(drawScale(scale, top, palette, words));
  }
  return plotSheet(
    {
      width: WIDTH,
      height,
      description: say('{n} set-ups, newest first, with spread and points an arrow', {
        n: rows.length,
      }),
      palette,
      fontFamily: options.fontFamily ?? FONT_FAMILY,
    },
    ...parts,
  );
}

function heading(title: string, under: readonly string[], x: number, palette: Palette): string {
  return [
    svgText({ x, y: 30, fill: palette.ink, 'font-weight': 600 }, title),
    ...under.map((line, i) =>
      svgText({ x, y: 50 + LINE * i, fill: palette.muted, 'font-size': SMALL }, line),
    ),
  ].join('');
}

/** Two lines of a name at most, with an ellipsis for more. */
function firstLines([first = '', ...rest]: readonly string[], room: number): string[] {
  return rest.length === 0 ? [first] : [first, shortened(rest.join(' '), room, NAME_SIZE)];
}

function scaleOf(
  values: readonly number[],
  { least, range }: { readonly least: number; readonly range: readonly [number, number] },
): PlotScale | null {
  if (values.length === 0) return null;
  return { kind: 'linear', domain: domainAround(values, least), range };
}

function drawEstimate(
  scale: PlotScale,
  y: number,
  look: {
    readonly at: number;
    readonly interval90: readonly [number, number];
    readonly series: number;
    readonly colour: string;
    readonly palette: Palette;
  },
): string {
  const { at, interval90, series, colour, palette } = look;
  const [low, high] = interval90.map((x) => placeOn(scale, x)) as [number, number];
  return (
    drawWhisker([low, y], [high, y], { colour, width: 2 }) +
    drawPoint({ at: [placeOn(scale, at), y], series, colour, palette, radius: 6 })
  );
}

function drawScale(scale: PlotScale, top: number, palette: Palette, words: Words): string {
  const [left, right] = scale.range;
  return svg(
    'g',
    {},
    svg('path', {
      d: `M${left} ${svgNumber(top)}H${right}`,
      stroke: palette.line,
      'stroke-width': 1,
    }),
    ...roundTicks(scale.domain, 4).map(
      (tick) =>
        svg('path', {
          d: `M${svgNumber(placeOn(scale, tick))} ${svgNumber(top)}v5`,
          stroke: palette.line,
          'stroke-width': 1,
        }) +
        svgText(
          {
            x: placeOn(scale, tick),
            y: top + 20,
            'text-anchor': 'middle',
            fill: palette.muted,
            'font-size': SMALL,
          },
          tickLabel(tick, words),
        ),
    ),
  );
}
