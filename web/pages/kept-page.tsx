import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { BackupPanel } from '../backup/backup-panel.tsx';
import type { DeletedEnd, KeptEnd } from '../store/database.ts';
import { announce } from '../state/announce.ts';
import { EndCard } from '../keep/end-card.tsx';
import { keptEnds } from '../store/kept-ends.ts';
import { deletedEnds, deleteEnd, putBack } from '../keep/delete-end.ts';
import { DeletedPanel } from '../keep/deleted-panel.tsx';
import { DevicePanel } from '../keep/device-panel.tsx';
import { conflictsFound, insistOn } from '../keep/hand-over.ts';
import { HandOverPanel } from '../keep/hand-over-panel.tsx';
import { Refused } from '../keep/log-requests.ts';
import { takeLogged } from '../keep/take-logged.ts';
import { hashOf } from '../state/route.ts';
import { settingOf } from '../state/settings.ts';
import { count, say, words } from '../state/words.ts';

/** Everything kept on this device, by archer and day. */
export function KeptPage() {
  const ends = useSignal<readonly KeptEnd[] | null>(null);
  const archer = useSignal<string | null>(null);
  const deleted = useSignal<readonly DeletedEnd[]>([]);
  const load = async () => {
    [ends.value, deleted.value] = await Promise.all([keptEnds(), deletedEnds()]);
  };
  const conflicts = conflictsFound.value;
  useEffect(() => void load().catch(() => (ends.value = [])), [conflicts]);
  const restore = async (id: string) => {
    await putBack(id);
    await load();
  };
  const remove = async (id: string) => {
    await deleteEnd(id);
    await load();
    announce(say('Deleted.'), { label: say('Undo'), run: () => void restore(id) });
    // The card that had the focus is gone.
    document.querySelector<HTMLElement>('.kept h1, .empty h1')?.focus();
  };
  const keepMine = async (id: string) => {
    await insistOn(id);
    await load();
  };
  const takeOther = async ({ id, conflict }: KeptEnd) => {
    if (conflict === 'deleted') {
      await remove(id);
      return;
    }
    try {
      await takeLogged(id);
      announce(say('Taken over from the log.'));
    } catch (error) {
      announce(
        error instanceof Refused
          ? words.value.again(error.message)
          : say('{host} cannot be reached: try later.', { host: location.host }),
      );
    }
    await load();
  };
  if (!ends.value) return <main class="page" />;
  if (ends.value.length === 0) {
    return (
      <main class="page">
        <section class="empty">
          <h1 tabIndex={-1}>{say('No ends kept yet')}</h1>
          <p>{say('What you keep waits here.')}</p>
          <a class="button primary" href={hashOf('home')}>
            {say('Photograph a face')}
          </a>
        </section>
        <DeletedPanel ends={deleted.value} onPutBack={(id) => void restore(id)} />
        <BackupPanel ends={[]} onTakenIn={() => void load()} />
        <HandOverPanel />
        <DevicePanel />
      </main>
    );
  }
  const archers = [...new Set(ends.value.map((end) => end.settings.archer))].sort();
  const shown = ends.value.filter(
    (end) => archer.value === null || end.settings.archer === archer.value,
  );
  const days = new Map<string, KeptEnd[]>();
  for (const end of shown) {
    const day = words.value.day(end.createdAt, 'full');
    const session = `${end.settings.archer || say('No name')} · ${day}`;
    days.set(session, [...(days.get(session) ?? []), end]);
  }
  return (
    <main class="page kept">
      <h1 tabIndex={-1}>{say('Kept ends')}</h1>
      {archers.length > 1 && (
        <label class="field">
          <span class="field-name">{say('Archer')}</span>
          <select
            value={archer.value ?? '*'}
            onChange={({ currentTarget: { value } }) =>
              (archer.value = value === '*' ? null : value)
            }
          >
            <option value="*">{say('Everyone')}</option>
            {archers.map((name) => (
              <option key={name} value={name}>
                {name || say('No name')}
              </option>
            ))}
          </select>
        </label>
      )}
      {[...days].map(([session, kept]) => (
        <section key={session}>
          <div class="section-head">
            <h2>{session}</h2>
            <span class="quiet">{summaryOf(kept)}</span>
          </div>
          <ul class="end-cards">
            {kept.map((end) => (
              <EndCard
                key={end.id}
                end={end}
                actions={{
                  remove: () => void remove(end.id),
                  insist: () => void keepMine(end.id),
                  takeOther: () => void takeOther(end),
                }}
              />
            ))}
          </ul>
        </section>
      ))}
      <DeletedPanel ends={deleted.value} onPutBack={(id) => void restore(id)} />
      <BackupPanel ends={ends.value} onTakenIn={() => void load()} />
      <HandOverPanel />
      <DevicePanel />
    </main>
  );
}

/** How many ends, where, and in what wind: '3 ends · Heathside ground · light from the left'. */
function summaryOf(kept: readonly KeptEnd[]): string {
  const said = (of: (settings: KeptEnd['settings']) => string) =>
    [...new Set(kept.map((end) => of(end.settings)).filter((words) => words !== ''))].join(', ');
  const outdoors = (settings: KeptEnd['settings']) =>
    settingOf(settings) === 'outdoor' ? settings.wind : '';
  return [count(kept.length, '{n} end', '{n} ends'), said(({ place }) => place), said(outdoors)]
    .filter((part) => part !== '')
    .join(' · ');
}
