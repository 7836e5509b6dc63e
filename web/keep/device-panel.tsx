import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { z } from 'zod';
import { may, ROLES, type Role } from '../../src/club/rights.ts';
import { archerSchema } from '../../src/tuning/record/session.ts';
import { announce } from '../state/announce.ts';
import { HAS_SERVER } from '../state/server.ts';
import { say } from '../state/words.ts';
import { newCode, whyNot, type Coach } from './club-requests.ts';
import { CoachesPanel } from './coaches-panel.tsx';
import { DeleteForGood } from './delete-for-good.tsx';
import { handOverWhat } from './hand-over.ts';
import { askLog, getLog } from './log-requests.ts';

const named = z.object({ id: z.string(), name: z.string() });

const rightsSchema = z.object({
  role: z.enum(ROLES),
  /** Null for the server's own machine. */
  deviceId: z.string().nullable(),
  archer: named.nullable(),
  coach: named.nullable(),
});
type Rights = z.infer<typeof rightsSchema>;

async function rightsHere(): Promise<Rights | null> {
  if (!HAS_SERVER) return null;
  const answer = await fetch('api/rights');
  return answer.ok ? rightsSchema.parse(await answer.json()) : null;
}

/** For whom this device speaks at the server, and what that lets it do there. */
export function DevicePanel() {
  const rights = useSignal<Rights | null>(null);
  useEffect(() => void rightsHere().then((found) => (rights.value = found), () => undefined), []); // prettier-ignore
  const here = rights.value;
  // Whoever sits at the server's own machine has its commands.
  if (here === null || here.deviceId === null) return null;
  const { role, archer } = here;
  return (
    <section class="card this-device" aria-labelledby="this-device-title">
      <h2 id="this-device-title">{say('This device at the server')}</h2>
      <p class="quiet">{belongsWords(here)}</p>
      {archer && may(role, 'export', 'own') && (
        <div class="button-row">
          <a class="button" href="api/log/export" download="endwise-log.zip">
            {say('Take my record along')}
          </a>
        </div>
      )}
      {archer && may(role, 'delete-archer', 'own') && (
        <DeleteRecord archer={archer} onDeleted={() => (rights.value = null)} />
      )}
      {(may(role, 'pair', 'coached') || may(role, 'pair', 'other')) && <Others role={role} />}
    </section>
  );
}

function belongsWords({ archer, coach, role }: Rights): string {
  if (archer) {
    return say('It is paired for {archer}: it sees and hands over this record alone.', {
      archer: archer.name,
    });
  }
  if (coach) {
    return say('It is paired for the coach {coach}: it sees the archers who are coached there.', {
      coach: coach.name,
    });
  }
  return role === 'keeper' ? say('It is paired for whoever keeps the log: it sees everybody.') : '';
}

interface DeleteProps {
  readonly archer: { readonly id: string; readonly name: string };
  readonly onDeleted: () => void;
}

function DeleteRecord({ archer, onDeleted }: DeleteProps) {
  const remove = async () => {
    try {
      await askLog(`archers/${archer.id}`, { method: 'DELETE' });
    } catch (error) {
      announce(whyNot(error));
      return;
    }
    // It would be refused from now on.
    handOverWhat.value = 'off';
    announce(say('The record is deleted from the server.'));
    onDeleted();
  };
  return (
    <DeleteForGood
      what={say('Delete my record from the server')}
      why={say(
        'Ends, photos and set-ups of {archer} go from the server, and no device of theirs is paired any more. What is kept on this device stays.',
        { archer: archer.name },
      )}
      leave={say('Leave it there')}
      onDelete={() => void remove()}
    />
  );
}

/** A code for a device of one of the archers whom this one sees, or of a coach; and who coaches whom. */
function Others({ role }: { readonly role: Role }) {
  const archers = useSignal<readonly { readonly id: string; readonly name: string }[]>([]);
  const coaches = useSignal<readonly Coach[]>([]);
  useEffect(
    () =>
      void getLog('archers', z.array(archerSchema)).then(
        ({ content }) => (archers.value = content),
        () => undefined,
      ),
    [],
  );
  return (
    <>
      <PairOne archers={archers.value} coaches={coaches.value} />
      {may(role, 'change-coaches', 'club') && (
        <CoachesPanel
          archers={archers.value}
          coaches={coaches.value}
          onChange={(next) => (coaches.value = next)}
        />
      )}
    </>
  );
}

interface PairProps {
  readonly archers: readonly { readonly id: string; readonly name: string }[];
  readonly coaches: readonly Coach[];
}

function PairOne({ archers, coaches }: PairProps) {
  const chosen = useSignal<string | null>(null);
  const shown = useSignal<string | null>(null);
  const holders = [
    ...archers.map(({ id, name }) => ({ holder: { archer: id }, key: `archer ${id}`, name })),
    ...coaches.map(({ id, name }) => ({
      holder: { coach: id },
      key: `coach ${id}`,
      name: say('{coach}, coach', { coach: name }),
    })),
  ];
  const one = holders.find(({ key }) => key === chosen.value) ?? holders[0];
  if (!one) return null;
  const ask = async () => {
    try {
      const { code, minutes } = await newCode(one.holder);
      const address = new URL('pair', document.baseURI).href;
      shown.value = say('{code} pairs one device within {minutes} minutes, at {address}.', {
        code,
        minutes,
        address,
      });
    } catch (error) {
      announce(whyNot(error));
    }
  };
  return (
    <div>
      <label class="field">
        <span class="field-name">{say('Pair a device of')}</span>
        <select
          value={one.key}
          onChange={({ currentTarget }) => {
            chosen.value = currentTarget.value;
            shown.value = null;
          }}
        >
          {holders.map(({ key, name }) => (
            <option key={key} value={key}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <div class="button-row">
        <button type="button" class="button" onClick={() => void ask()}>
          {say('Show a code')}
        </button>
      </div>
      <p role="status">{shown.value}</p>
    </div>
  );
}
