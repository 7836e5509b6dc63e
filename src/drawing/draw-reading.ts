import { placeInPhoto } from '../reading/face-map.ts';
import type { Reading } from '../reading/reading.ts';
import { drawMark } from './draw-mark.ts';
import { glyphOf } from './mark-glyph.ts';
import { FONT_FAMILY, PAPER } from './palette.ts';
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
  const palette = options.palette ?? PAPER;
  const unit = faceExtentPx(reading) / 400;
  const parts: string[] = [];
  if (photo.href !== undefined) {
    parts.push(svg('image', { href: photo.href, width: photo.width, height: photo.height }));
  }
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
  for (const mark of reading.marks) {
    const glyph = glyphOf(mark);
    const at = placeInPhoto(mark, reading.fit);
    const radius = (glyph === 'old' ? 5 : 7) * unit;
    parts.push(drawMark({ glyph, at, radius, stroke: 2 * unit, palette }));
    if (glyph === 'old') continue;
    parts.push(
      svgText(
        {
          x: at[0] + 10 * unit,
          y: at[1] - 6 * unit,
          'font-size': 13 * unit,
          'font-weight': 700,
          fill: palette[glyph],
          stroke: palette.casing,
          'stroke-width': 3.4 * unit,
          'stroke-linejoin': 'round',
          'paint-order': 'stroke',
        },
        zoneLabel(mark),
      ),
    );
  }
  return svg(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${photo.width} ${photo.height}`,
      width: photo.width,
      height: photo.height,
      role: 'img',
      'aria-label': `The face with its rings and ${reading.marks.length} marks`,
      'font-family': options.fontFamily ?? FONT_FAMILY,
    },
    ...parts,
  );
}

function faceExtentPx(reading: Pick<Reading, 'fit'>): number {
  const points = reading.fit.spots.flatMap((spot) => spot.rings.flatMap((ring) => ring.px));
  const xs = points.map((point) => point[0]);
  const ys = points.map((point) => point[1]);
  return Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys), 100);
}
