import { readEnd } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';

/** In place of what would speak of two sizes at once: the photo is to be read by what was said since. */
export function UnreadSizes({ end }: { end: OpenEnd }) {
  return (
    <div class="ask">
      <p>
        You have said {end.unreadSizes.value}: the photo was read otherwise. Read it again, and the
        verdict follows.
      </p>
      <button type="button" class="button primary" onClick={() => void readEnd(end)}>
        Read the photo again
      </button>
      <p class="quiet">Reading again drops the corrections made so far.</p>
    </div>
  );
}
