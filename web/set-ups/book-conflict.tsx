import { setUpDifference } from '../../src/tuning/bow/set-up-difference.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import type { InLog } from '../store/database.ts';
import { say, words } from '../state/words.ts';

interface Props {
  readonly note: InLog;
  /** The bow as it is here, and the set-up where one is meant. */
  readonly bow: Bow;
  readonly setUp?: SetUp;
  readonly isShotWith: boolean;
  readonly onKeep: () => void;
  readonly onTake: () => void;
}

/** What was changed here and, since both last agreed, on another device too: a person chooses. */
export function BookConflict({ note, bow, setUp, isShotWith, onKeep, onTake }: Props) {
  if (!note.conflict) return null;
  const { there } = note.conflict;
  const { name } = setUp ?? bow;
  const differences = there ? differencesOf(there, bow, setUp) : [];
  return (
    <div class="book-conflict" role="alert">
      <p>
        {there
          ? say('Another device changed “{name}” too. The log keeps that one until you choose.', {
              name,
            })
          : say('“{name}” was deleted on another device.', { name })}
      </p>
      {differences.length > 0 && (
        <p class="quiet">
          {say('There, compared with here: {differences}.', {
            differences: differences.join('; '),
          })}
        </p>
      )}
      <div class="button-row">
        <button type="button" class="button" onClick={onKeep}>
          {say(there ? 'Keep this one' : 'Put it back into the log')}
        </button>
        {(there || !isShotWith) && (
          <button type="button" class="button" onClick={onTake}>
            {say(there ? 'Take the other one' : 'Delete it here too')}
          </button>
        )}
      </div>
    </div>
  );
}

function differencesOf(there: Bow | SetUp, bow: Bow, setUp: SetUp | undefined): string[] {
  const here = setUp ?? bow;
  const said: string[] = [];
  if (there.name !== here.name) said.push(say('it is called “{name}”', { name: there.name }));
  if (setUp && 'settings' in there) {
    said.push(
      ...setUpDifference(bow, setUp, there, words.value).map((one) => `${one.name} ${one.to}`),
    );
    const [right, up] = there.preferredMrad;
    if (right !== setUp.preferredMrad[0] || up !== setUp.preferredMrad[1]) {
      said.push(say('the bare shafts are wanted elsewhere'));
    }
  }
  if (there.notes !== here.notes) said.push(say('the note differs'));
  if (there.archived !== here.archived) {
    said.push(say(there.archived ? 'it is archived' : 'it is in use'));
  }
  return said;
}
