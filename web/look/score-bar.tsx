import { tieBreakWords } from '../../src/marks/tie-break.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { count, say, words } from '../state/words.ts';

/** The end's score, always in sight. */
export function ScoreBar({ end }: { end: OpenEnd }) {
  const evaluation = end.evaluation.value;
  if (!evaluation) return null;
  const { total, tieBreak, arrows } = evaluation.score;
  const parted = tieBreakWords(tieBreak, words.value);
  const calls = evaluation.marks.filter((mark) => mark.age !== 'old' && mark.lineCall !== null);
  /** Each press shows the next one. */
  const showCall = () => {
    const at = calls.findIndex(({ id }) => id === end.selected.value);
    if (end.step.value !== 'tag') end.step.value = 'look';
    end.selected.value = calls[(at + 1) % calls.length]!.id;
  };
  return (
    <header class="score">
      <p class="score-total">
        <strong>{end.unreadSizes.value === null ? total : '–'}</strong>
        <span>
          {count(arrows, '{n} arrow', '{n} arrows')}
          {end.unreadSizes.value === null && parted !== null && ` · ${parted}`}
        </span>
        {end.unreadSizes.value === null && calls.length > 0 && (
          <button type="button" class="near-line" onClick={showCall}>
            {say('{n} near a line', { n: calls.length })}
          </button>
        )}
      </p>
      <p class="score-judge">{say('A photo never overrules the judge at the boss.')}</p>
    </header>
  );
}
