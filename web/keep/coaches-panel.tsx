import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { v4 as newId } from 'uuid';
import { announce } from '../state/announce.ts';
import { say } from '../state/words.ts';
import { coachesOfClub, deleteCoach, putCoach, whyNot, type Coach } from './club-requests.ts';
import { DeleteForGood } from './delete-for-good.tsx';

interface Props {
  readonly archers: readonly { readonly id: string; readonly name: string }[];
  readonly coaches: readonly Coach[];
  readonly onChange: (coaches: Coach[]) => void;
}

/** Who coaches whom: what a coach's devices may see follows at once. */
export function CoachesPanel({ archers, coaches, onChange }: Props) {
  const name = useSignal('');
  useEffect(() => void coachesOfClub().then(onChange, () => undefined), []);
  const change = async (doing: Promise<void>) => {
    try {
      await doing;
    } catch (error) {
      announce(whyNot(error));
    }
    // Also where it failed: what is ticked is what the server has.
    await coachesOfClub().then(onChange, () => undefined);
  };
  const put = (coach: Coach) => change(putCoach(coach));
  const remove = async ({ id, name }: Coach) => {
    await deleteCoach(id);
    announce(say('{coach} is deleted as a coach.', { coach: name }));
  };
  const add = async (event: Event) => {
    event.preventDefault();
    if (name.value.trim() === '') return;
    await put({ id: newId(), name: name.value.trim(), archerIds: [] });
    name.value = '';
  };
  return (
    <details class="coaches">
      <summary>{say('Who coaches whom')}</summary>
      {coaches.map((coach) => (
        <fieldset key={coach.id} class="checklist">
          <legend>{say('{coach} coaches', { coach: coach.name })}</legend>
          {archers.map((archer) => (
            <label key={archer.id}>
              <input
                type="checkbox"
                checked={coach.archerIds.includes(archer.id)}
                onChange={({ currentTarget: { checked } }) => {
                  const others = coach.archerIds.filter((id) => id !== archer.id);
                  void put({ ...coach, archerIds: checked ? [...others, archer.id] : others });
                }}
              />
              <span>{archer.name}</span>
            </label>
          ))}
          <DeleteForGood
            what={say('Delete {coach}', { coach: coach.name })}
            why={say(
              'This deletes {coach}: devices that were paired for this coach will see nothing any more. The archers stay in the log with all that is theirs, and keep their other coaches.',
              { coach: coach.name },
            )}
            leave={say('Keep {coach}', { coach: coach.name })}
            onDelete={() => void change(remove(coach))}
          />
        </fieldset>
      ))}
      <form onSubmit={(event) => void add(event)}>
        <label class="field">
          <span class="field-name">{say('Name of the coach')}</span>
          <input
            type="text"
            maxLength={80}
            value={name.value}
            onInput={({ currentTarget }) => (name.value = currentTarget.value)}
          />
        </label>
        <div class="button-row">
          <button type="submit" class="button">
            {say('Add the coach')}
          </button>
        </div>
      </form>
    </details>
  );
}
