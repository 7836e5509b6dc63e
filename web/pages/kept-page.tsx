import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { KeptEnd } from '../store/database.ts';
import { EndCard } from '../keep/end-card.tsx';
import { keptEnds } from '../store/kept-ends.ts';
import { HandOverPanel } from '../keep/hand-over-panel.tsx';
import { hashOf } from '../state/route.ts';
import { settingOf } from '../state/settings.ts';

/** Everything kept on this device, by archer and day. */
export function KeptPage() {
  const ends = useSignal<readonly KeptEnd[] | null>(null);
  const archer = useSignal<string | null>(null);
  useEffect(() => {
    void keptEnds()
      .then((all) => (ends.value = all))
      .catch(() => (ends.value = []));
  }, []);
  if (!ends.value) return <main class="page" />;
  if (ends.value.length === 0) {
    return (
      <main class="page">
        <section class="empty">
          <h1>No ends kept yet</h1>
          <p>Photograph a face, look at the verdict, keep it: it will wait here.</p>
          <a class="button primary" href={hashOf('home')}>
            Photograph a face
          </a>
        </section>
        <HandOverPanel />
      </main>
    );
  }
  const archers = [...new Set(ends.value.map((end) => end.settings.archer))].sort();
  const shown = ends.value.filter(
    (end) => archer.value === null || end.settings.archer === archer.value,
  );
  const days = new Map<string, KeptEnd[]>();
  for (const end of shown) {
    const day = new Date(end.createdAt).toLocaleDateString(undefined, { dateStyle: 'full' });
    const session = `${end.settings.archer || 'No name'} · ${day}`;
    days.set(session, [...(days.get(session) ?? []), end]);
  }
  return (
    <main class="page kept">
      <h1>Kept ends</h1>
      {archers.length > 1 && (
        <label class="field">
          <span class="field-name">Archer</span>
          <select
            value={archer.value ?? '*'}
            onChange={({ currentTarget: { value } }) =>
              (archer.value = value === '*' ? null : value)
            }
          >
            <option value="*">Everyone</option>
            {archers.map((name) => (
              <option key={name} value={name}>
                {name || 'No name'}
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
              <EndCard key={end.id} end={end} />
            ))}
          </ul>
        </section>
      ))}
      <HandOverPanel />
    </main>
  );
}

/** How many ends, where, and in what wind: '3 ends · Heathside ground · light from the left'. */
function summaryOf(kept: readonly KeptEnd[]): string {
  const said = (of: (settings: KeptEnd['settings']) => string) =>
    [...new Set(kept.map((end) => of(end.settings)).filter((words) => words !== ''))].join(', ');
  const outdoors = (settings: KeptEnd['settings']) =>
    settingOf(settings) === 'outdoor' ? settings.wind : '';
  return [
    kept.length === 1 ? '1 end' : `${kept.length} ends`,
    said(({ place }) => place),
    said(outdoors),
  ]
    .filter((part) => part !== '')
    .join(' · ');
}
