import { addView, leaveViewOut } from '../open-ends/ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { say } from '../state/words.ts';

/** Where arrows hide one another, a second photo from the other side shows what the first does not. */
export function SecondView({ end }: { end: OpenEnd }) {
  if (end.also.value) {
    return (
      <div class="button-row">
        <p class="quiet">{say('Read from two photos of this end, joined.')}</p>
        <button type="button" class="button" onClick={() => void leaveViewOut(end)}>
          {say('Leave the second one out')}
        </button>
      </div>
    );
  }
  const onFile = (event: { currentTarget: HTMLInputElement }) => {
    const [file] = event.currentTarget.files ?? [];
    event.currentTarget.value = '';
    if (file) void addView(end, file);
  };
  const corrected = end.canUndo.value;
  return (
    <div class="button-row">
      <label class="button">
        {say('Add another view of this end')}
        <input class="visually-hidden" type="file" accept="image/*,.heic,.heif" onChange={onFile} />
      </label>
      <p class="quiet">
        {say('From the other side of the arrows, before they are pulled.')}
        {corrected && ` ${say('Corrections made so far are dropped.')}`}
      </p>
    </div>
  );
}
