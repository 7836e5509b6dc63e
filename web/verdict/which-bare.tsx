import { drawGroups } from '../../src/drawing/draw-groups.ts';
import { FACES } from '../../src/face/faces.ts';
import { SCREEN } from '../parts/screen-palette.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { say, words } from '../state/words.ts';

/** How many answers fit beside one another on a phone. */
const PICTURES = 2;

/** Asks which marks are the bare shafts where that was guessed: the likeliest answers as pictures. */
export function WhichBare({ end }: { end: OpenEnd }) {
  const guessed = end.evaluation.value?.guessedTags;
  const reading = end.reading.value;
  if (!guessed || !reading) return null;
  const arrows = end.marks.value.filter((mark) => mark.age !== 'old');
  return (
    <section class="which-bare" aria-labelledby="which-bare-title">
      <h2 id="which-bare-title">{say('Which are the bare shafts?')}</h2>
      <p class="quiet">
        {say('The photo does not show it. These are the likeliest, by where the arrows lie.')}
      </p>
      <div class="which-bare-answers">
        {guessed.ways.slice(0, PICTURES).map(({ bare, p }) => {
          const tagged = arrows.map(({ id, mm }) => {
            const kind = bare.includes(id) ? ('bare' as const) : ('fletched' as const);
            return { mm, kind };
          });
          const picture = drawGroups(
            { face: FACES[reading.face], arrows: tagged, groups: null },
            { palette: SCREEN, fontFamily: 'inherit', small: true, words: words.value },
          );
          return (
            <button
              key={bare.join()}
              type="button"
              aria-label={say('Bare shafts: {marks}', {
                marks: words.value.list(bare.map((id) => numberOf(end, id))),
              })}
              onClick={() => end.tellTags(bare)}
            >
              <span aria-hidden dangerouslySetInnerHTML={{ __html: picture }} />
              <span>{words.value.percent(Math.round(p * 100))}</span>
            </button>
          );
        })}
      </div>
      <button
        type="button"
        class="button"
        onClick={() => {
          end.step.value = 'tag';
        }}
      >
        {say('Neither: check the tags')}
      </button>
    </section>
  );
}

function numberOf(end: OpenEnd, id: string): string {
  return say('mark {number}', {
    number: end.marks.value.findIndex((mark) => mark.id === id) + 1,
  });
}
