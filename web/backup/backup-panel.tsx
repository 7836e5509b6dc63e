import { useSignal } from '@preact/signals';
import { download } from '../files/download.ts';
import { storageAsked } from '../keep/stay-kept.ts';
import { announce } from '../state/announce.ts';
import type { KeptEnd } from '../store/database.ts';
import { lastCopy } from './backup-state.ts';

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
    const { file, ends: count, photos } = await writeBackup();
    const now = new Date().toISOString();
    download(file, `endwise-${now.slice(0, 10)}.zip`);
    lastCopy.value = now;
    return `Copied: ${counted(count, 'end')} with ${counted(photos, 'photo')}.`;
  };
  const take = async (file: File) => {
    const { readBackup } = await import('./read-backup.ts');
    const { ends: count, setUps, there } = await readBackup(file);
    onTakenIn();
    const taken = `Taken in: ${counted(count, 'end')}, ${counted(setUps, 'set-up')}.`;
    if (there === 0) return taken;
    return `${taken} ${counted(there, 'end')} ${there === 1 ? 'was' : 'were'} here already.`;
  };
  return (
    <section class="card backup" aria-labelledby="backup-title">
      <h2 id="backup-title">A copy of your own</h2>
      <p class="quiet">{copyWords(ends)}</p>
      {storageAsked.value === 'refused' && (
        <p class="quiet">
          This browser may clear what is kept here when it is short of room: copy it now and then.
        </p>
      )}
      <div class="button-row">
        <button
          type="button"
          class="button"
          disabled={busy.value}
          onClick={() => void doing(write)}
        >
          Copy everything into a file
        </button>
        <label class="button">
          Take a copy in
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
  if (last === null) return 'Nothing here was ever copied into a file of yours.';
  const since = ends.filter(({ keptAt }) => keptAt > last).length;
  const when = new Date(last).toLocaleDateString(undefined, { dateStyle: 'medium' });
  return `Last copied on ${when}. ${since === 0 ? 'No end was' : since === 1 ? '1 end was' : `${since} ends were`} kept since.`;
}

function counted(count: number, what: string): string {
  return count === 1 ? `1 ${what}` : `${count} ${what}s`;
}
