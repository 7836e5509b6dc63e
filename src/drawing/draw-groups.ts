import { writtenAs } from '../words/units.ts';
import { ENGLISH, type Words } from '../words/words.ts';
import type { SpotMm } from '../face/coordinates.ts';
import { outerRadiusMm, type Face } from '../face/faces.ts';
import type { Groups } from '../groups/groups.ts';
import type { ArrowKind } from '../marks/mark.ts';
import type { Tuning } from '../tuning/advice/tuning.ts';
import { drawMark } from './draw-mark.ts';
import { FONT_FAMILY, PAPER, type Palette } from './palette.ts';
import { svg, svgNumber, svgText } from './svg.ts';

export interface PlottedArrow {
  readonly kind: ArrowKind;
  /** Millimetres from the centre of the arrow's own spot. */
  readonly mm: SpotMm;
}

export interface GroupsPlot {
  readonly face: Face;
  readonly arrows: readonly PlottedArrow[];
  readonly groups: Groups | null;
  /** Shooting distance; without it the region, which is angular, cannot be drawn. */
  readonly distanceM?: number | undefined;
  /** Radius around the fletched mean within which plunger and nocking point are the tools. */
  readonly plateRadiusMm?: number | undefined;
  /**
   * The one estimate of the offset that goes with it, mrad [right, up]; null draws none.
   * @default that of the groups
   */
  readonly estimate?:
    | { readonly mrad: readonly [number, number]; readonly half90Mrad: readonly [number, number] }
    | null
    | undefined;
  /** Where bare shafts are wanted, from the fletched mean, and how near is near enough. */
  readonly wanted?:
    { readonly mm: readonly [number, number]; readonly radiusMm: number } | undefined;
  /** How large letters are beside the usual, for a plot that is shown small. @default 1 */
  readonly letters?: number;
}

export interface DrawingOptions {
  /** @default PAPER */
  readonly palette?: Palette;
  /** @default FONT_FAMILY */
  readonly fontFamily?: string;
  /** At a thumb's size: bigger signs, and neither means nor words. @default false */
  readonly small?: boolean;
  /** What letters and descriptions are said in. @default ENGLISH */
  readonly words?: Words;
}

/** Edge of the square plot, in units of the drawing. */
const SIZE = 400;
const FONT_SIZE = 14;
/** A shaft's sign on the plot. */
const MARK = { radius: 8, stroke: 2.4 };
const MARK_WHEN_SMALL = { radius: 17, stroke: 5 };
/** Window sizes grow by this factor, so that a dragged mark does not make the plot breathe. */
const WINDOW_STEP = 1.25;

interface Window {
  readonly centreMm: readonly [number, number];
  readonly halfMm: number;
}

interface Circle {
  readonly at: readonly [number, number];
  readonly radius: number;
}

/** The smallest stepped square around everything that must be seen. */
function windowAround(must: readonly Circle[], wish: readonly Circle[], face: Face): Window {
  if (must.length === 0) return { centreMm: [0, 0], halfMm: outerRadiusMm(face) * 1.05 };
  const box = (circles: readonly Circle[]): Window => {
    const low = (axis: 0 | 1) => Math.min(...circles.map((c) => c.at[axis] - c.radius));
    const high = (axis: 0 | 1) => Math.max(...circles.map((c) => c.at[axis] + c.radius));
    return {
      centreMm: [(low(0) + high(0)) / 2, (low(1) + high(1)) / 2],
      halfMm: Math.max(high(0) - low(0), high(1) - low(1)) / 2,
    };
  };
  let window = box(must);
  for (const circle of wish) {
    const wider = box([...must, circle]);
    if (wider.halfMm <= 3 * window.halfMm) window = wider;
  }
  const smallest = face.zones.at(-1)!.outerRadiusMm * 1.5;
  const wanted = Math.max(window.halfMm * 1.12, smallest);
  return {
    centreMm: window.centreMm,
    halfMm: WINDOW_STEP ** Math.ceil(Math.log(wanted) / Math.log(WINDOW_STEP)),
  };
}

/** A round length for the scale bar, a fifth to a half of the window, any unit. */
function roundLength(window: number): number {
  const power = 10 ** Math.floor(Math.log10(window / 5));
  const lengths = [1, 2, 5, 10].map((n) => Number((n * power).toPrecision(6)));
  return lengths.find((length) => length >= window / 5)!;
}

/**
 * The estimate to draw with a verdict: the log's where one was used, none while tags are a guess, else
 * that of the groups.
 */
export function drawnEstimate(
  tuning: Pick<Tuning, 'estimate'> | null,
  guessedTags: object | null,
): Tuning['estimate'] | undefined {
  return tuning?.estimate ?? (guessedTags ? null : undefined);
}

/** Radius of a round normal law's 90 % region, over the half-width of its 90 % interval per axis. */
const REGION_PER_INTERVAL = Math.sqrt(-2 * Math.log(0.1)) / 1.6449;

function regionOf({ mrad, half90Mrad }: NonNullable<GroupsPlot['estimate']>) {
  return {
    centre: mrad,
    semiAxes: [half90Mrad[0] * REGION_PER_INTERVAL, half90Mrad[1] * REGION_PER_INTERVAL] as const,
    angleDeg: 0,
  };
}

/**
 * Both groups on the face to scale, seen by the archer (x right, y up): the arrows of the end, the
 * mean points, the offset with its 90 % region, the plate and the place where bare shafts are
 * wanted. Returns a square SVG of 400 units.
 */
export function drawGroups(plot: GroupsPlot, options: DrawingOptions = {}): string {
  const palette = options.palette ?? PAPER;
  const { words = ENGLISH } = options;
  const { face, groups, letters = 1 } = plot;
  const fletched = groups?.fletched ?? null;
  const bare = groups?.bare ?? null;
  const from = fletched?.meanMm ?? null;
  const region =
    plot.estimate === undefined
      ? (groups?.offset?.region90Mrad ?? null)
      : plot.estimate && regionOf(plot.estimate);
  const distanceM = plot.distanceM;

  const regionMm =
    region && from && distanceM !== undefined
      ? {
          at: [
            from[0] + region.centre[0] * distanceM,
            from[1] + region.centre[1] * distanceM,
          ] as const,
          semiAxes: [region.semiAxes[0] * distanceM, region.semiAxes[1] * distanceM] as const,
          angleDeg: region.angleDeg,
        }
      : null;
  const plate =
    from && plot.plateRadiusMm !== undefined ? { at: from, radius: plot.plateRadiusMm } : null;
  const wanted =
    from && plot.wanted
      ? {
          at: [from[0] + plot.wanted.mm[0], from[1] + plot.wanted.mm[1]] as const,
          radius: plot.wanted.radiusMm,
        }
      : null;

  const must: Circle[] = plot.arrows.map((arrow) => ({ at: arrow.mm, radius: 0 }));
  if (wanted) must.push(wanted);
  const wish: Circle[] = [];
  if (regionMm) wish.push({ at: regionMm.at, radius: Math.max(...regionMm.semiAxes) });
  if (plate) wish.push(plate);
  const window = windowAround(must, wish, face);

  const unit = SIZE / (2 * window.halfMm);
  const x = (mm: number) => SIZE / 2 + (mm - window.centreMm[0]) * unit;
  const y = (mm: number) => SIZE / 2 - (mm - window.centreMm[1]) * unit;
  const place = (mm: readonly [number, number]) => [x(mm[0]), y(mm[1])] as const;
  const ring = (c: Circle, attributes: Record<string, string | number>) =>
    svg('circle', { cx: x(c.at[0]), cy: y(c.at[1]), r: c.radius * unit, ...attributes });

  const parts: string[] = [];
  parts.push(
    svg('rect', { width: SIZE, height: SIZE, fill: palette.background }),
    ...faceParts(face, ring, { x, y, palette, hasValues: letters === 1 }),
  );

  if (plate) {
    parts.push(
      ring(plate, {
        fill: 'none',
        stroke: palette.muted,
        'stroke-width': 1.5,
        'stroke-dasharray': '7 5',
        class: 'plate',
      }),
    );
  }
  if (wanted) {
    parts.push(
      ring(wanted, {
        fill: 'none',
        stroke: palette.wanted,
        'stroke-width': 1.6,
        'stroke-dasharray': '1.5 4',
        'stroke-linecap': 'round',
        class: 'wanted',
      }),
    );
  }
  if (regionMm) {
    const [cx, cy] = place(regionMm.at);
    parts.push(
      svg('ellipse', {
        rx: regionMm.semiAxes[0] * unit,
        ry: regionMm.semiAxes[1] * unit,
        transform: `translate(${svgNumber(cx)} ${svgNumber(cy)}) rotate(${svgNumber(-regionMm.angleDeg)})`,
        fill: palette.bare,
        'fill-opacity': 0.16,
        stroke: palette.bare,
        'stroke-width': 1.6,
        class: 'region',
      }),
    );
  }
  if (fletched && bare && !options.small) {
    const [a, b] = [place(fletched.meanMm), place(bare.meanMm)];
    const line = { x1: a[0], y1: a[1], x2: b[0], y2: b[1], 'stroke-linecap': 'round' };
    parts.push(
      svg('line', { ...line, stroke: palette.casing, 'stroke-width': 5 }),
      svg('line', { ...line, stroke: palette.ink, 'stroke-width': 2, class: 'offset' }),
    );
  }
  for (const arrow of plot.arrows) {
    parts.push(
      drawMark({
        glyph: arrow.kind,
        at: place(arrow.mm),
        ...(options.small ? MARK_WHEN_SMALL : MARK),
        palette,
      }),
    );
  }
  if (!options.small) {
    if (fletched) parts.push(meanPoint(place(fletched.meanMm), 'fletched', palette));
    if (bare) parts.push(meanPoint(place(bare.meanMm), 'bare', palette));
    parts.push(...sideWords(palette, letters, words), ...scaleBar(window, palette, words));
  }

  return svg(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${SIZE} ${SIZE}`,
      role: 'img',
      'aria-label': description(plot, words),
      'font-family': options.fontFamily ?? FONT_FAMILY,
      'font-size': FONT_SIZE * letters,
    },
    ...parts,
  );
}

function sideWords(palette: Palette, letters: number, { say }: Words): string[] {
  const sides: [string, number, number, string][] = [
    [say('high'), SIZE / 2, 5 + 13 * letters, 'middle'],
    [say('low'), SIZE / 2, SIZE - 10, 'middle'],
    [say('left'), 10, SIZE / 2 + 4 * letters, 'start'],
    [say('right'), SIZE - 10, SIZE / 2 + 4 * letters, 'end'],
  ];
  return sides.map(([text, x, y, anchor]) =>
    halo({ x, y, 'text-anchor': anchor }, text, palette.muted, palette),
  );
}

function scaleBar({ halfMm }: Window, palette: Palette, words: Words): string[] {
  const { per } = writtenAs('mm', words.units);
  const length = roundLength(2 * halfMm * per);
  const bar = length / per;
  return [
    svg('path', {
      d: `M12 ${SIZE - 22}v8h${svgNumber((bar * SIZE) / (2 * halfMm))}v-8`,
      fill: 'none',
      stroke: palette.ink,
      'stroke-width': 1.6,
    }),
    halo(
      { x: 12, y: SIZE - 28 },
      `${words.number(length)} ${words.units.length}`,
      palette.ink,
      palette,
    ),
  ];
}

function faceParts(
  face: Face,
  ring: (circle: Circle, attributes: Record<string, string | number>) => string,
  {
    x,
    y,
    palette,
    hasValues,
  }: {
    readonly x: (mm: number) => number;
    readonly y: (mm: number) => number;
    readonly palette: Palette;
    readonly hasValues: boolean;
  },
): string[] {
  const parts = face.zones.map((zone) =>
    ring(
      { at: [0, 0], radius: zone.outerRadiusMm },
      { fill: palette.zones[zone.ink], stroke: palette.line, 'stroke-width': 0.8 },
    ),
  );
  if (face.innerRadiusMm !== null) {
    parts.push(
      ring(
        { at: [0, 0], radius: face.innerRadiusMm },
        { fill: 'none', stroke: palette.line, 'stroke-width': 0.8 },
      ),
    );
  }
  const [cx, cy] = [svgNumber(x(0)), svgNumber(y(0))];
  parts.push(
    svg('path', {
      d: `M${cx} ${cy}m-4 0h8m-4 -4v8`,
      stroke: palette.muted,
      'stroke-width': 1,
      fill: 'none',
    }),
  );
  for (const zone of hasValues ? face.zones : []) {
    const innerMm = face.zones.find((z) => z.value === zone.value + 1)?.outerRadiusMm ?? 0;
    if (innerMm === 0) continue;
    const tx = x(-(zone.outerRadiusMm + innerMm) / 2);
    const inFrame = tx > 40 && tx < SIZE - 40 && y(0) > 26 && y(0) < SIZE - 26;
    if (!inFrame) continue;
    parts.push(
      svgText(
        { x: tx, y: y(0) + 4, 'text-anchor': 'middle', 'font-size': 11, fill: palette.muted },
        String(zone.value),
      ),
    );
  }
  return parts;
}

/** Text with a casing, legible on any zone. */
function halo(
  attributes: Record<string, string | number>,
  text: string,
  fill: string,
  palette: Palette,
): string {
  return svgText(
    {
      ...attributes,
      fill,
      stroke: palette.casing,
      'stroke-width': 3,
      'stroke-linejoin': 'round',
      'paint-order': 'stroke',
    },
    text,
  );
}

function meanPoint(
  at: readonly [number, number],
  kind: 'fletched' | 'bare',
  palette: Palette,
): string {
  const [cx, cy] = at;
  return svg(
    'g',
    { class: `mean mean-${kind}` },
    svg('circle', {
      cx,
      cy,
      r: 8.5,
      fill: palette[kind],
      stroke: palette.casing,
      'stroke-width': 2.5,
    }),
    kind === 'fletched'
      ? svg('path', {
          d: [-90, 30, 150]
            .map((deg) => {
              const a = (deg * Math.PI) / 180;
              return `M${svgNumber(cx)} ${svgNumber(cy)}l${svgNumber(5 * Math.cos(a))} ${svgNumber(5 * Math.sin(a))}`;
            })
            .join(''),
          stroke: palette.casing,
          'stroke-width': 2,
          'stroke-linecap': 'round',
        })
      : svg('circle', {
          cx,
          cy,
          r: 3.6,
          fill: 'none',
          stroke: palette.casing,
          'stroke-width': 2,
        }),
  );
}

function description({ arrows, groups }: GroupsPlot, { say, mm }: Words): string {
  const count = (kind: ArrowKind) => arrows.filter((arrow) => arrow.kind === kind).length;
  const said = say('Plot of the end on the face: {fletched} fletched, {bare} bare.', {
    fletched: count('fletched'),
    bare: count('bare'),
  });
  const offset = groups?.offset?.mm;
  if (!offset) return said;
  const [right, up] = offset;
  const mean = say("The bare shafts' mean lies {up} and {across} of the fletched mean.", {
    up: say(up < 0 ? '{size} low' : '{size} high', { size: mm(Math.abs(up)) }),
    across: say(right < 0 ? '{size} left' : '{size} right', { size: mm(Math.abs(right)) }),
  });
  return `${said} ${mean}`;
}
