import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { z } from 'zod';
import { may, ROLES } from '../../src/club/rights.ts';
import { archerSchema } from '../../src/tuning/record/session.ts';
import { announce } from '../state/announce.ts';
import { HAS_SERVER } from '../state/server.ts';
import { say, words } from '../state/words.ts';
import { handOverWhat } from './hand-over.ts';
import { askLog, getLog, Refused } from './log-requests.ts';

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
      {(may(role, 'pair', 'coached') || may(role, 'pair', 'other')) && <PairOne />}
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

/** By two presses: what is deleted there does not come back. */
function DeleteRecord({ archer, onDeleted }: DeleteProps) {
  const isAsked = useSignal(false);
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
  if (!isAsked.value) {
    return (
      <div class="button-row">
        <button type="button" class="button" onClick={() => (isAsked.value = true)}>
          {say('Delete my record from the server')}
        </button>
      </div>
    );
  }
  return (
    <div role="group" aria-labelledby="delete-record-why">
      <p id="delete-record-why">
        {say(
          'Ends, photos and set-ups of {archer} go from the server, and no device of theirs is paired any more. What is kept on this device stays.',
          { archer: archer.name },
        )}
      </p>
      <div class="button-row">
        <button type="button" class="button" onClick={() => (isAsked.value = false)}>
          {say('Leave it there')}
        </button>
        <button type="button" class="button" onClick={() => void remove()}>
          {say('Delete it for good')}
        </button>
      </div>
    </div>
  );
}

/** A code for a device of one of the archers whom this one sees. */
function PairOne() {
  const archers = useSignal<readonly { readonly id: string; readonly name: string }[]>([]);
  const chosen = useSignal('');
  const shown = useSignal<string | null>(null);
  useEffect(
    () =>
      void getLog('archers', z.array(archerSchema)).then(
        ({ content }) => {
          archers.value = content;
          chosen.value = content[0]?.id ?? '';
        },
        () => undefined,
      ),
    [],
  );
  const ask = async () => {
    try {
      const { code, minutes } = await newCode(chosen.value);
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
  if (archers.value.length === 0) return null;
  return (
    <div>
      <label class="field">
        <span class="field-name">{say('Pair a device of')}</span>
        <select
          value={chosen.value}
          onChange={({ currentTarget }) => {
            chosen.value = currentTarget.value;
            shown.value = null;
          }}
        >
          {archers.value.map(({ id, name }) => (
            <option key={id} value={id}>
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

const codeSchema = z.object({ code: z.string(), minutes: z.number() });
const errorSchema = z.object({ error: z.object({ code: z.string(), message: z.string() }) });

async function newCode(archer: string): Promise<z.infer<typeof codeSchema>> {
  const answer = await fetch('api/pairing-codes', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ archer }),
  });
  const said: unknown = await answer.json();
  if (answer.ok) return codeSchema.parse(said);
  const { error } = errorSchema.parse(said);
  throw new Refused(error.code, error.message);
}

function whyNot(error: unknown): string {
  return error instanceof Refused
    ? words.value.again(error.message)
    : say('{host} cannot be reached: try later.', { host: location.host });
}
