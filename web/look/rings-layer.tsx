import { polyline } from '../../src/drawing/svg.ts';
import type { Reading } from '../../src/reading/reading.ts';
import { useMemo } from 'preact/hooks';
import type { ViewTransform } from './view-transform.ts';

/** The fitted rings on the photo. */
export function RingsLayer({ fit, view }: { fit: Reading['fit']; view: ViewTransform }) {
  const path = useMemo(
    () =>
      fit.spots.flatMap((spot) => spot.rings.map((ring) => polyline(ring.px, 'closed'))).join(''),
    [fit],
  );
  const transform = `translate(${view.x} ${view.y}) scale(${view.scale})`;
  return (
    <g class="rings" aria-hidden>
      <path class="rings-casing" d={path} transform={transform} />
      <path class="rings-line" d={path} transform={transform} />
    </g>
  );
}
