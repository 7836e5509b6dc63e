import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { drawGroups } from '../../src/drawing/draw-groups.ts';
import { FACES } from '../../src/face/faces.ts';
import { SCREEN } from '../parts/screen-palette.ts';
import { hashOf } from '../state/route.ts';
import type { KeptEnd } from '../store/database.ts';

/** A kept end in a list: both groups small, the score, and the verdict in a line. */
export function EndCard({ end }: { end: KeptEnd }) {
  const { reading } = end;
  const sketch = useSignal('');
  useEffect(() => {
    sketch.value = drawGroups(
      {
        face: FACES[reading.face],
        arrows: reading.marks.filter((mark) => mark.age !== 'old'),
        groups: reading.groups,
        distanceM: end.settings.distanceM ?? undefined,
      },
      { palette: SCREEN, fontFamily: 'inherit' },
    );
  }, [end]);
  const { direction: up } = reading.tuning?.vertical ?? { direction: null };
  const words = reading.tuning
    ? [reading.tuning.vertical, reading.tuning.horizontal]
        .filter((axis) => axis.certainty !== 'undecided' && axis.direction !== 'level')
        .map((axis) => `${axis.direction}, ${axis.certainty}`)
        .join(' · ') || (up === 'level' ? 'as wanted' : 'undecided')
    : 'no bare shafts';
  return (
    <li class="end-card">
      <a href={hashOf('end', end.id)}>
        <span
          class="end-card-plot"
          aria-hidden
          dangerouslySetInnerHTML={{ __html: sketch.value }}
        />
        <span class="end-card-words">
          <b>
            {reading.score.total}
            <small> · {reading.score.arrows} arrows</small>
          </b>
          <span>{end.settings.archer || 'No name'}</span>
          <span class="quiet">
            {words}
            {end.settings.distanceM !== null && ` · ${end.settings.distanceM} m`}
          </span>
          <time class="quiet" dateTime={end.createdAt}>
            {new Date(end.createdAt).toLocaleString(undefined, {
              dateStyle: 'medium',
              timeStyle: 'short',
            })}
          </time>
        </span>
      </a>
    </li>
  );
}
