import type { OpenEnd } from '../state/open-end.ts';

/** The end's score, always in sight. */
export function ScoreBar({ end }: { end: OpenEnd }) {
  const evaluation = end.evaluation.value;
  if (!evaluation) return null;
  const { total, inners, arrows } = evaluation.score;
  const calls = evaluation.marks.filter(
    (mark) => mark.age !== 'old' && mark.lineCall !== null,
  ).length;
  return (
    <header class="score">
      <p class="score-total">
        <strong>{end.unreadSizes.value === null ? total : '–'}</strong>
        <span>
          {arrows === 1 ? '1 arrow' : `${arrows} arrows`}
          {end.unreadSizes.value === null && inners > 0 && ` · ${inners} X`}
          {end.unreadSizes.value === null && calls > 0 && ` · ${calls} near a line`}
        </span>
      </p>
      <p class="score-judge">A photo never overrules the judge at the boss.</p>
    </header>
  );
}
