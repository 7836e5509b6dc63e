import type { Tuning } from '../../src/tuning/advice/tuning.ts';
import { say, words } from '../state/words.ts';

interface Props {
  readonly less: 'low' | 'left';
  readonly more: 'high' | 'right';
  readonly verdict: Tuning['vertical'] | Tuning['horizontal'];
}

/** One direction as a balance between its two sides: where the needle stands is how sure it is. */
export function OddsStrip({ less, more, verdict }: Props) {
  const level = verdict.direction === 'level';
  const probability = level ? 0.5 : verdict.direction === more ? verdict.p : 1 - verdict.p;
  const { percent } = words.value;
  const direction = say(verdict.direction);
  const meaning = level
    ? say('as wanted')
    : say('{what}: {how}', { what: direction, how: verdict.meaning });
  const shown = Math.round(verdict.p * 100);
  const odds = shown >= 100 ? say('over {p}', { p: percent(99) }) : percent(shown);
  return (
    <div class={`odds-strip odds-${verdict.certainty}`}>
      <p>
        <strong>{verdict.certainty === 'undecided' ? say('undecided') : meaning}</strong>
        <span>
          {verdict.certainty === 'undecided'
            ? `${level ? '' : `${direction} `}${odds}`
            : `${say(verdict.certainty)}, ${odds}`}
        </span>
      </p>
      <div class="odds-scale" aria-hidden>
        <span>{say(less)}</span>
        <div class="odds-bar">
          <i style={{ left: `${probability * 100}%` }} />
        </div>
        <span>{say(more)}</span>
      </div>
    </div>
  );
}
