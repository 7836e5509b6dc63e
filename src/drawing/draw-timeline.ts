import { ENGLISH, type PlainText, type Words } from '../words/words.ts';
import type { Timeline, TimelinePoint } from '../trends/timeline.ts';
import { FONT_FAMILY, PAPER, type Palette } from './palette.ts';
import {
  domainAround,
  drawPanel,
  drawPoint,
  drawWhisker,
  isNarrow,
  placeOn,
  plotSheet,
  roundTicks,
  tickLabel,
  type PlotFrame,
  type PlotOptions,
  type PlotScale,
} from './plot-panel.ts';
import { svg, svgNumber, svgText } from './svg.ts';
import { shortened, textWidth } from './text-width.ts';

const WIDTH = 560;
/** Below one another, in place of beside: a title and the names of its series. */
const LINE = 20;
const PANEL = 120;
const GAP = 46;
const TOP = 66;
const NAME_SIZE = 12;
/** A name cut to less says nothing. */
const LEAST_NAME = 70;

interface Track {
  readonly title: PlainText;
  /** Where there is little room. */
  readonly short: PlainText;
  readonly least: number;
  readonly zero?: true;
  readonly series: readonly {
    readonly name: PlainText;
    readonly colour: string;
    readonly value: (
      point: TimelinePoint,
    ) => { readonly at: number; readonly low: number; readonly high: number } | null;
  }[];
}

/**
 * Average, spread and offset of each session over time, one panel each, with the days on which the
 * set-up changed. `names` gives set-ups by id the names a person knows. 560 units wide unless told otherwise.
 */
export function drawTimeline(
  timeline: Timeline,
  names: Readonly<Record<string, string>> = {},
  options: PlotOptions = {},
): string {
  const { width = WIDTH } = options;
  const narrow = isNarrow(width);
  const [left, right] = [narrow ? 46 : 60, width - 24];
  const step = PANEL + GAP + (narrow ? LINE : 0);
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { points, changes } = timeline;
  const tracks = tracksOf(palette).filter((track) =>
    points.some((point) => track.series.some((series) => series.value(point) !== null)),
  );
  const top = TOP + (narrow ? LINE : 0);
  const height = top + Math.max(1, tracks.length) * step + 10;
  const sheet = {
    width,
    height,
    description: words.say('Timeline of {sessions} sessions with {changes} changes of set-up', {
      sessions: points.length,
      changes: changes.length,
    }),
    palette,
    fontFamily: options.fontFamily ?? FONT_FAMILY,
  };
  if (tracks.length === 0) {
    return plotSheet(sheet, svgText({ x: left, y: top, fill: palette.muted }, words.say('Nothing to show yet: keep an end first.'))); // prettier-ignore
  }
  const times = [...points.map((point) => Date.parse(point.at)), ...changes.map((c) => Date.parse(c.at))]; // prettier-ignore
  const day = 86_400_000;
  const x: PlotScale = {
    kind: 'linear',
    domain: domainAround(times, 7 * day),
    range: [left, right],
  };
  const bottomOf = (row: number) => top + row * step + PANEL;
  const last = tracks.length - 1;
  return plotSheet(
    sheet,
    drawChanges(changes, names, { x, width, bottom: bottomOf(last), palette }),
    ...tracks.map((track, row) => {
      const frame = { left, right, top: bottomOf(row) - PANEL, bottom: bottomOf(row) };
      return drawTrack(track, points, { x, frame, palette, narrow, isLast: row === last, words });
    }),
  );
}

function tracksOf(palette: Palette): Track[] {
  const axis = (component: 0 | 1) => (point: TimelinePoint) => {
    if (!point.offset) return null;
    const at = point.offset.mrad[component];
    return { at, low: at - point.offset.half90Mrad, high: at + point.offset.half90Mrad };
  };
  return [
    {
      title: 'Points an arrow',
      short: 'Points an arrow',
      least: 0.5,
      series: [
        {
          name: 'average',
          colour: palette.ink,
          value: ({ average }) =>
            average === null ? null : { at: average, low: average, high: average },
        },
      ],
    },
    {
      title: 'Spread of fletched arrows, mrad',
      short: 'Fletched spread, mrad',
      least: 0.5,
      series: [
        {
          name: 'spread',
          colour: palette.fletched,
          value: ({ spread }) =>
            spread && {
              at: spread.sigmaMrad,
              low: spread.interval90[0],
              high: spread.interval90[1],
            },
        },
      ],
    },
    {
      title: 'Bare shafts from fletched, mrad',
      short: 'Bare shafts, mrad',
      least: 2,
      zero: true,
      series: [
        { name: 'up#series', colour: palette.bare, value: axis(1) },
        { name: 'right', colour: palette.fletched, value: axis(0) },
      ],
    },
  ];
}

function drawTrack(
  track: Track,
  points: readonly TimelinePoint[],
  {
    x,
    frame,
    palette,
    narrow,
    isLast,
    words,
  }: {
    readonly x: PlotScale;
    readonly frame: PlotFrame;
    readonly palette: Palette;
    readonly narrow: boolean;
    readonly isLast: boolean;
    readonly words: Words;
  },
): string {
  const all = track.series.flatMap(({ value }) => points.map(value).filter((one) => one !== null));
  const reach = all.flatMap(({ low, high }) => [low, high]);
  const domain = domainAround(track.zero ? [...reach, 0] : reach, track.least);
  const y: PlotScale = { kind: 'linear', domain, range: [frame.bottom, frame.top] };
  const parts = [
    drawPanel(frame, {
      x: isLast
        ? { scale: x, ticks: dayTicks(x.domain, narrow ? 4 : 7), label: words.dayOfYear }
        : null,
      y: {
        scale: y,
        ticks: roundTicks(domain, 5),
        label: (tick) => tickLabel(tick, words),
      },
      title: words.say(narrow ? track.short : track.title),
      palette,
    }),
  ];
  if (track.zero) {
    const zero = placeOn(y, 0);
    parts.push(drawWhisker([frame.left, zero], [frame.right, zero], { colour: palette.ink, width: 1 })); // prettier-ignore
  }
  for (const [series, { value, colour, name }] of track.series.entries()) {
    // Two series on one day stand a little apart, so that neither hides the other.
    const aside = track.series.length > 1 ? (series - (track.series.length - 1) / 2) * 9 : 0;
    const placed = points.flatMap((point) => {
      const read = value(point);
      return read ? [{ ...read, x: placeOn(x, Date.parse(point.at)) + aside }] : [];
    });
    const path = placed.map((p, i) => `${i ? 'L' : 'M'}${svgNumber(p.x)} ${svgNumber(placeOn(y, p.at))}`).join(''); // prettier-ignore
    parts.push(
      svg('path', {
        d: path,
        fill: 'none',
        stroke: colour,
        'stroke-width': 1.2,
        opacity: 0.45,
        'stroke-dasharray': series % 2 === 1 ? '4 3' : null,
      }),
      ...placed.map((p) =>
        drawWhisker([p.x, placeOn(y, p.low)], [p.x, placeOn(y, p.high)], { colour }),
      ),
      ...placed.map((p) => drawPoint({ at: [p.x, placeOn(y, p.at)], series, colour, palette })),
    );
    if (track.series.length > 1) {
      // Beside the title, or above it where there is no room.
      const at = narrow ? frame.left + 5 + series * 60 : frame.right - 130 + series * 60;
      const y = frame.top - 10 - (narrow ? LINE : 0);
      parts.push(
        drawPoint({ at: [at, y - 5], series, colour, palette }),
        svgText({ x: at + 10, y, fill: palette.ink }, words.say(name)),
      );
    }
  }
  return svg('g', {}, ...parts);
}

function drawChanges(
  changes: Timeline['changes'],
  names: Readonly<Record<string, string>>,
  {
    x,
    width,
    bottom,
    palette,
  }: {
    readonly x: PlotScale;
    readonly width: number;
    readonly bottom: number;
    readonly palette: Palette;
  },
): string {
  const free = [-Infinity, -Infinity];
  return svg(
    'g',
    { class: 'changes' },
    ...byDay(changes).flatMap(({ at, to }) => {
      const place = placeOn(x, Date.parse(at));
      const name = to.map((id) => names[id] ?? id).join(', ');
      const label = placeLabel(place, textWidth(name, NAME_SIZE), { free, width });
      const row = label?.row ?? -1;
      if (label) free[row] = Math.max(place, label.side === 'right' ? place + 5 + label.width : place) + 8; // prettier-ignore
      return [
        svg('path', {
          d: `M${svgNumber(place)} ${row >= 0 ? 8 + row * 16 : 26}V${svgNumber(bottom)}`,
          stroke: palette.muted,
          'stroke-width': 1,
          'stroke-dasharray': '2 4',
        }),
        ...(label
          ? [
              svgText(
                {
                  x: label.side === 'right' ? place + 5 : place - 5,
                  y: 18 + row * 16,
                  'text-anchor': label.side === 'right' ? null : 'end',
                  fill: palette.muted,
                  'font-size': NAME_SIZE,
                },
                shortened(name, label.width, NAME_SIZE),
              ),
            ]
          : []),
      ];
    }),
  );
}

/**
 * Where the name of a change goes: the first of two rows that has room for it beside its line, to the
 * right or else to the left; else where most of it fits. Null where hardly any would.
 */
function placeLabel(
  place: number,
  wanted: number,
  { free, width: all }: { readonly free: readonly number[]; readonly width: number },
): { readonly row: number; readonly side: 'left' | 'right'; readonly width: number } | null {
  const spots = free.flatMap((until, row) => [
    { row, side: 'right' as const, width: until < place ? all - 4 - (place + 5) : 0 },
    { row, side: 'left' as const, width: place - 5 - Math.max(0, until) },
  ]);
  const roomy = spots.find(({ width }) => width >= wanted);
  if (roomy) return { ...roomy, width: wanted };
  const widest = spots.reduce((best, spot) => (spot.width > best.width ? spot : best));
  return widest.width >= LEAST_NAME ? widest : null;
}

/** Set-ups shot by turns change many times in a day: one line then, with every name. */
function byDay(changes: Timeline['changes']): { at: string; to: string[] }[] {
  const days = new Map<string, { at: string; to: string[] }>();
  for (const { at, to } of changes) {
    const day = days.get(at.slice(0, 10)) ?? { at, to: [] };
    if (!day.to.includes(to)) day.to.push(to);
    days.set(at.slice(0, 10), day);
  }
  return [...days.values()];
}

/** A handful of whole days, evenly spaced. */
function dayTicks([low, high]: readonly [number, number], most: number): number[] {
  const day = 86_400_000;
  const days = (high - low) / day;
  const step = [1, 2, 7, 14, 28, 56, 91, 182, 365].find((one) => days / one <= most) ?? 730;
  const ticks: number[] = [];
  for (let t = Math.ceil(low / day) * day; t <= high; t += step * day) ticks.push(t);
  return ticks;
}
