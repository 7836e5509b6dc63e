import { readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { say } from '../state/words.ts';

/** In place of what would speak of two sizes at once: the photo is to be read by what was said since. */
export function UnreadSizes({ end }: { end: OpenEnd }) {
  return (
    <div class="ask">
      <p>
        {say('The photo was read otherwise than {sizes}: read it again for the verdict.', {
          sizes: end.unreadSizes.value!,
        })}
      </p>
      <button type="button" class="button primary" onClick={() => void readEnd(end)}>
        {say('Read the photo again')}
      </button>
      <p class="quiet">{say('Drops the corrections made so far.')}</p>
    </div>
  );
}
