import { UnitStepper } from './unit-stepper.tsx';
import { FACE_IDS, FACES } from '../../src/face/faces.ts';
import { SCORING_IDS, SCORINGS, type Scoring } from '../../src/face/scoring.ts';
import { ASSUMED_SHAFT_MM } from '../../src/request/assumed-shaft.ts';
import { ARROWS_OF_A_KIND, DISTANCE_M, SHAFT_MM } from '../../src/request/limits.ts';
import type { FaceChoice } from '../../src/request/request.ts';
import type { Settings } from '../state/settings.ts';
import { HandChoice } from './hand-choice.tsx';
import { Stepper } from './stepper.tsx';
import { TextField } from './text-field.tsx';
import { say } from '../state/words.ts';

interface Props {
  readonly value: Settings;
  readonly onChange: (value: Settings) => void;
}

/** What a person says about an end; all of it is remembered for the next one. */
export function SettingsForm({ value, onChange }: Props) {
  const set = (change: Partial<Settings>) => onChange({ ...value, ...change });
  return (
    <div class="settings">
      <TextField
        label={say('Archer')}
        autocomplete="off"
        maxLength={80}
        placeholder={say('Name')}
        value={value.archer}
        onInput={(archer) => set({ archer })}
      />
      <label class="field">
        <span class="field-name">{say('Face')}</span>
        <select
          value={value.face}
          onChange={(event) => set({ face: event.currentTarget.value as FaceChoice })}
        >
          <option value="auto">{say('From the photo')}</option>
          {FACE_IDS.map((id) => (
            <option key={id} value={id}>
              {say(FACES[id].name)}
            </option>
          ))}
        </select>
        {value.face === 'auto' && (
          <span class="field-note">
            {say(
              'In a photo ten-zone faces of all sizes look alike: say the size, or millimetres may be wrong.',
            )}
          </span>
        )}
      </label>
      <label class="field">
        <span class="field-name">{say('Scoring')}</span>
        <select
          value={value.scoring}
          onChange={(event) => set({ scoring: event.currentTarget.value as Scoring })}
        >
          {SCORING_IDS.map((id) => (
            <option key={id} value={id}>
              {say(SCORINGS[id].name)}
            </option>
          ))}
        </select>
      </label>
      <UnitStepper
        label={say('Distance')}
        unit="m"
        value={value.distanceM}
        min={DISTANCE_M.min}
        max={DISTANCE_M.max}
        step={1}
        start={18}
        onChange={(distanceM) => set({ distanceM })}
      />
      <Stepper
        label={say('Shaft diameter')}
        unit="mm"
        value={value.shaftMm}
        min={SHAFT_MM.min}
        max={SHAFT_MM.max}
        step={0.1}
        start={ASSUMED_SHAFT_MM}
        onChange={(shaftMm) => set({ shaftMm })}
      />
      <Stepper
        label={say('Fletched arrows shot')}
        value={value.fletched}
        min={0}
        max={ARROWS_OF_A_KIND}
        start={3}
        onChange={(fletched) => set({ fletched })}
      />
      <Stepper
        label={say('Bare shafts shot')}
        value={value.bare}
        min={0}
        max={ARROWS_OF_A_KIND}
        start={2}
        onChange={(bare) => set({ bare })}
      />
      <HandChoice
        label={say('Archer shoots')}
        value={value.hand}
        onChange={(hand) => set({ hand })}
      />
    </div>
  );
}
