import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { drawGroups, drawnEstimate } from '../../src/drawing/draw-groups.ts';
import { FACES } from '../../src/face/faces.ts';
import { SCREEN } from '../parts/screen-palette.ts';
import { hashOf } from '../state/route.ts';
import type { KeptEnd } from '../store/database.ts';
import { count, say, words } from '../state/words.ts';

interface Props {
  readonly end: KeptEnd;
  /** What can be done with it; without, it can only be opened. */
  readonly actions?: {
    readonly remove: () => void;
    /** The end as it is here replaces what another device made of it in the log. */
    readonly insist: () => void;
    /** The log's one replaces the end as it is here. */
    readonly takeOther: () => void;
  };
}

/** A kept end in a list: both groups small, the score, and the verdict in a line. */
export function EndCard({ end, actions }: Props) {
  const { reading } = end;
  const sketch = useSignal('');
  useEffect(() => {
    sketch.value = drawGroups(
      {
        face: FACES[reading.face],
        arrows: reading.marks.filter((mark) => mark.age !== 'old'),
        groups: reading.groups,
        distanceM: end.settings.distanceM ?? undefined,
        estimate: drawnEstimate(reading.tuning, reading.guessedTags),
      },
      { palette: SCREEN, fontFamily: 'inherit', words: words.value },
    );
  }, [end, words.value]);
  const { direction: up } = reading.tuning?.vertical ?? { direction: null };
  const verdict = reading.tuning
    ? [reading.tuning.vertical, reading.tuning.horizontal]
        .filter((axis) => axis.certainty !== 'undecided' && axis.direction !== 'level')
        .map((axis) => `${say(axis.direction)}, ${say(axis.certainty)}`)
        .join(' · ') || say(up === 'level' ? 'as wanted' : 'undecided')
    : say('no bare shafts');
  const when = words.value.dayAndTime(end.createdAt);
  const archer = end.settings.archer;
  const named = { archer: archer || say('no name#of'), when };
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
            <small> · {count(reading.score.arrows, '{n} arrow', '{n} arrows')}</small>
          </b>
          <span>{archer || say('No name')}</span>
          <span class="quiet">
            {verdict}
            {end.settings.distanceM !== null && ` · ${words.value.metres(end.settings.distanceM)}`}
          </span>
          <time class="quiet" dateTime={end.createdAt}>
            {when}
          </time>
        </span>
      </a>
      {actions && end.conflict && (
        <div class="end-card-conflict" role="alert">
          <p>
            {end.conflict === 'changed'
              ? say('Another device changed it too. The log keeps that one until you choose.')
              : say('Deleted from the log on another device.')}
          </p>
          <button type="button" class="button" onClick={actions.insist}>
            {say(
              end.conflict === 'changed' ? 'Put this one into the log' : 'Put it back into the log',
            )}
          </button>
          <button type="button" class="button" onClick={actions.takeOther}>
            {say(end.conflict === 'changed' ? 'Take the other one' : 'Delete it here too')}
          </button>
        </div>
      )}
      {actions && (
        <div class="end-card-actions">
          <a
            class="quiet-button"
            href={hashOf('end', end.id)}
            aria-label={say('Correct the end of {archer}, {when}', named)}
          >
            {say('Correct')}
          </a>
          <button
            type="button"
            class="quiet-button"
            aria-label={say('Delete the end of {archer}, {when}', named)}
            onClick={actions.remove}
          >
            {say('Delete')}
          </button>
        </div>
      )}
    </li>
  );
}
