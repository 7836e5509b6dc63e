import { ENGLISH } from '../words/words.ts';
import { placeInPhoto } from '../reading/face-map.ts';
import type { Reading } from '../reading/reading.ts';
import { drawMark } from './draw-mark.ts';
import { glyphOf } from './mark-glyph.ts';
import { FONT_FAMILY, PAPER, type Palette } from './palette.ts';
import { textWidth } from './text-width.ts';
import { polyline, svg, svgText } from './svg.ts';
import { zoneLabel } from './zone-label.ts';
import type { DrawingOptions } from './draw-groups.ts';

export interface PhotoUnderlay {
  readonly width: number;
  readonly height: number;
  /** Where the photo can be had (an address or data URL); left out, only the overlay is drawn. */
  readonly href?: string;
}

/**
 * A reading drawn on its photo: fitted rings, centres, and every mark with its sign and value.
 * Units are pixels of the photo; lines and signs are sized by the face's extent in it.
 */
export function drawReading(
  reading: Pick<Reading, 'fit' | 'marks'>,
  photo: PhotoUnderlay,
  options: DrawingOptions = {},
): string {
  const picture =
    photo.href === undefined
      ? []
      : [svg('image', { href: photo.href, width: photo.width, height: photo.height })];
  return svg(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${photo.width} ${photo.height}`,
      width: photo.width,
      height: photo.height,
      role: 'img',
      'aria-label': (options.words ?? ENGLISH).say('The face with its rings and {marks} marks', {
        marks: reading.marks.length,
      }),
      'font-family': options.fontFamily ?? FONT_FAMILY,
    },
    ...picture,
    ...readingLayers(reading, options.palette ?? PAPER),
  );
}

/** Rings and marks in pixels of the photo, without the drawing around them. */
export function readingLayers(reading: Pick<Reading, 'fit' | 'marks'>, palette: Palette): string[] {
  const { extentPx } = faceInPhoto(reading);
  const unit = extentPx / 400;
  const parts: string[] = [];
  for (const spot of reading.fit.spots) {
    const rings = spot.rings.map((ring) => polyline(ring.px, 'closed')).join('');
    const line = { d: rings, fill: 'none', 'stroke-linejoin': 'round' };
    parts.push(
      svg('path', {
        ...line,
        stroke: '#000000',
        'stroke-opacity': 0.55,
        'stroke-width': 1.9 * unit,
      }),
      svg('path', { ...line, stroke: '#ffffff', 'stroke-width': 0.8 * unit }),
    );
  }
  const signs = reading.marks.map((mark) => placeInPhoto(mark, reading.fit));
  const taken: Box[] = signs.map((at) => boxAbout(at, 7 * unit, 7 * unit));
  for (const [i, mark] of reading.marks.entries()) {
    const glyph = glyphOf(mark);
    const at = signs[i]!;
    const radius = (glyph === 'old' ? 5 : 7) * unit;
    parts.push(drawMark({ glyph, at, radius, stroke: 2 * unit, palette }));
    if (glyph === 'old') continue;
    const label = zoneLabel(mark);
    const place = placeLabel(at, textWidth(label, 13 * unit), unit, taken);
    taken.push(place.box);
    parts.push(
      svgText(
        {
          x: place.x,
          y: place.y,
          'font-size': 13 * unit,
          'font-weight': 700,
          fill: palette[glyph],
          stroke: palette.casing,
          'stroke-width': 3.4 * unit,
          'stroke-linejoin': 'round',
          'paint-order': 'stroke',
        },
        label,
      ),
    );
  }
  return parts;
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

function boxAbout([x, y]: readonly [number, number], halfX: number, halfY: number): Box {
  return { left: x - halfX, top: y - halfY, right: x + halfX, bottom: y + halfY };
}

/** Where a value stands beside its sign, best first: the sides' directions, y down. */
const SIDES = [
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
] as const;

/** Beside the sign, where it meets least of the other signs and values. */
function placeLabel(
  [x, y]: readonly [number, number],
  width: number,
  unit: number,
  taken: readonly Box[],
): { readonly x: number; readonly y: number; readonly box: Box } {
  const [gap, height] = [10 * unit, 10 * unit];
  const places = [1, 1.8, 2.6].flatMap((far) =>
    SIDES.map(([right, down]) => {
      const left = right > 0 ? x + gap * far : x - gap * far - width;
      const base = down < 0 ? y - 6 * unit * far : y + 6 * unit * far + height;
      const box = { left, top: base - height, right: left + width, bottom: base };
      return {
        x: left,
        y: base,
        box,
        cost: taken.reduce((sum, other) => sum + shared(box, other), 0),
      };
    }),
  );
  return places.reduce((best, place) => (place.cost < best.cost ? place : best));
}

/** The area that two boxes share. */
function shared(a: Box, b: Box): number {
  const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const tall = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  return wide > 0 && tall > 0 ? wide * tall : 0;
}

/** The middle of the face's rings in the photo and how far they reach, px. */
export function faceInPhoto(reading: Pick<Reading, 'fit'>): {
  readonly middle: readonly [number, number];
  readonly extentPx: number;
} {
  const points = reading.fit.spots.flatMap((spot) => spot.rings.flatMap((ring) => ring.px));
  const along = (axis: 0 | 1) => {
    const values = points.map((point) => point[axis]);
    return [Math.min(...values), Math.max(...values)] as const;
  };
  const [[left, right], [top, bottom]] = [along(0), along(1)];
  return {
    middle: [(left + right) / 2, (top + bottom) / 2],
    extentPx: Math.max(right - left, bottom - top, 100),
  };
}
