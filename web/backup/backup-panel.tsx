import { useSignal } from '@preact/signals';
import { download } from '../files/download.ts';
import { storageAsked } from '../keep/stay-kept.ts';
import { announce } from '../state/announce.ts';
import type { KeptEnd } from '../store/database.ts';
import { lastCopy } from './backup-state.ts';
import { count, say, words } from '../state/words.ts';

interface Props {
  readonly ends: readonly KeptEnd[];
  /** After something was taken in. */
  readonly onTakenIn: () => void;
}

/** Everything kept on this device into one file, and back. */
export function BackupPanel({ ends, onTakenIn }: Props) {
  const busy = useSignal(false);
  const problem = useSignal<string | null>(null);
  const doing = async (work: () => Promise<string>) => {
    busy.value = true;
    problem.value = null;
    try {
      announce(await work());
    } catch (error) {
      const { BackupProblem } = await import('./read-backup.ts');
      if (!(error instanceof BackupProblem)) throw error;
      problem.value = error.message;
    } finally {
      busy.value = false;
    }
  };
  const write = async () => {
    const { writeBackup } = await import('./write-backup.ts');
    const { file, ends, photos } = await writeBackup();
    const now = new Date().toISOString();
    download(file, `endwise-${now.slice(0, 10)}.zip`);
    lastCopy.value = now;
    return say('Copied: {ends} with {photos}.', {
      ends: count(ends, '{n} end', '{n} ends'),
      photos: count(photos, '{n} photo', '{n} photos'),
    });
  };
  const take = async (file: File) => {
    const { readBackup } = await import('./read-backup.ts');
    const { ends, setUps, there } = await readBackup(file);
    onTakenIn();
    const taken = say('Taken in: {ends}, {setUps}.', {
      ends: count(ends, '{n} end', '{n} ends'),
      setUps: count(setUps, '{n} set-up', '{n} set-ups'),
    });
    return there === 0
      ? taken
      : `${taken} ${count(there, '{n} end was here already.', '{n} ends were here already.')}`;
  };
  return (
    <section class="card backup" aria-labelledby="backup-title">
      <h2 id="backup-title">{say('A copy of your own')}</h2>
      <p class="quiet">{copyWords(ends)}</p>
      {storageAsked.value === 'refused' && (
        <p class="quiet">
          {say('This browser may clear what is kept here: copy it now and then.')}
        </p>
      )}
      <div class="button-row">
        <button
          type="button"
          class="button"
          disabled={busy.value}
          onClick={() => void doing(write)}
        >
          {say('Copy all into a file')}
        </button>
        <label class="button">
          {say('Take a copy in')}
          <input
            class="visually-hidden"
            type="file"
            accept=".zip,application/zip"
            disabled={busy.value}
            onChange={({ currentTarget }) => {
              const file = currentTarget.files?.[0];
              currentTarget.value = '';
              if (file) void doing(() => take(file));
            }}
          />
        </label>
      </div>
      {problem.value && (
        <p class="notes" role="alert">
          {problem.value}
        </p>
      )}
    </section>
  );
}

function copyWords(ends: readonly KeptEnd[]): string {
  const last = lastCopy.value;
  if (last === null) return say('Never copied yet.');
  const since = ends.filter(({ keptAt }) => keptAt > last).length;
  const copied = say('Last copied on {day}.', { day: words.value.day(last) });
  return `${copied} ${
    since === 0
      ? say('No end was kept since.')
      : count(since, '{n} end was kept since.', '{n} ends were kept since.')
  }`;
}
