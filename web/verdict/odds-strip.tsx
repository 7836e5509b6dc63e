import type { Tuning } from '../../src/tuning/advice/tuning.ts';

interface Props {
  readonly less: string;
  readonly more: string;
  readonly verdict: Tuning['vertical'] | Tuning['horizontal'];
}

/** One direction as a balance between its two sides: where the needle stands is how sure it is. */
export function OddsStrip({ less, more, verdict }: Props) {
  const level = verdict.direction === 'level';
  const probability = level ? 0.5 : verdict.direction === more ? verdict.p : 1 - verdict.p;
  const words = level ? 'as wanted' : `${verdict.direction}: ${verdict.meaning}`;
  const shown = Math.round(verdict.p * 100);
  const odds = shown >= 100 ? 'over 99 %' : `${shown} %`;
  return (
    <div class={`odds-strip odds-${verdict.certainty}`}>
      <p>
        <strong>{verdict.certainty === 'undecided' ? 'undecided' : words}</strong>
        <span>
          {verdict.certainty === 'undecided'
            ? `${level ? '' : `${verdict.direction} `}${odds}`
            : `${verdict.certainty}, ${odds}`}
        </span>
      </p>
      <div class="odds-scale" aria-hidden>
        <span>{less}</span>
        <div class="odds-bar">
          <i style={{ left: `${probability * 100}%` }} />
        </div>
        <span>{more}</span>
      </div>
    </div>
  );
}
