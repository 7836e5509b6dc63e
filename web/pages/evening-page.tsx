import { Rich } from '../parts/rich.tsx';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import {
  archersWithoutHand,
  eveningEnds,
  eveningLines,
  isUndoubted,
  keepUndoubted,
  openEvening,
  sayHandOf,
  takeAsAlso,
  takeAsBefore,
  type EveningEnd,
} from '../evening/evening.ts';
import { droppedFiles, gatherFiles } from '../evening/gather-files.ts';
import { GatherProblem } from '../evening/gather-problem.ts';
import { download } from '../files/download.ts';
import { HandChoice } from '../parts/hand-choice.tsx';
import { SettingsForm } from '../parts/settings-form.tsx';
import { settingsSummary } from '../parts/settings-summary.ts';
import { announce } from '../state/announce.ts';
import { restoreOwnEnds } from '../open-ends/ends.ts';
import { headline } from '../verdict/verdict-panel.tsx';
import { hashOf } from '../state/route.ts';
import { settings } from '../state/settings.ts';
import { count, say, words } from '../state/words.ts';

type Files = readonly { readonly path: string; readonly file: File }[];

/** Many photos at once, for a coach: what needs a look comes first, one click from its correction. */
export function EveningPage() {
  const busy = useSignal(false);
  useEffect(() => void restoreOwnEnds().catch(() => {}), []);

  const open = async (files: Promise<Files> | Files) => {
    busy.value = true;
    try {
      const { photos, leftOut } = await gatherFiles(await files);
      if (leftOut.length > 0) announce(leftOut.join(' '));
      await openEvening(photos);
    } catch (error) {
      announce(
        error instanceof GatherProblem
          ? error.message
          : say('The photos could not be opened: there may be no room left.'),
      );
    } finally {
      busy.value = false;
    }
  };
  const onFiles = (event: { currentTarget: HTMLInputElement }) => {
    const files = [...(event.currentTarget.files ?? [])].map((file) => ({
      // The first part is the chosen folder itself.
      path: file.webkitRelativePath.split('/').slice(1).join('/') || file.name,
      file,
    }));
    event.currentTarget.value = '';
    void open(files);
  };
  const ends = eveningEnds();
  const sure = ends.filter(isUndoubted).length;
  const keepSure = async () => {
    const kept = await keepUndoubted();
    announce(count(kept, '{n} end kept.', '{n} ends kept.'));
  };
  const waiting = ends.filter((end) => end.look === null).length;

  return (
    <main
      class="page evening"
      aria-busy={busy.value}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        if (event.dataTransfer) void open(droppedFiles(event.dataTransfer));
      }}
    >
      <h1>{say('A whole evening')}</h1>
      <p>
        <Rich>
          {[
            say(
              'Drop a folder or a zip archive here. Folders and names say who shot, and with which bow: <b>Juna/soft plunger/3.jpg</b>.',
            ),
            say(
              'Beside it, <b>3-before.jpg</b> is from before the end, <b>3-also.jpg</b> from another side. Or say it in the list.',
            ),
          ].join(' ')}
        </Rich>
      </p>
      <div class="start-buttons">
        <label class="button primary">
          {say('Choose a folder')}
          <input
            class="visually-hidden"
            type="file"
            ref={(input) => input?.setAttribute('webkitdirectory', '')}
            onChange={onFiles}
          />
        </label>
        <label class="button">
          {say('Choose photos or a zip archive')}
          <input
            class="visually-hidden"
            type="file"
            accept="image/*,.zip"
            multiple
            onChange={onFiles}
          />
        </label>
      </div>
      <details class="about card">
        <summary>
          <span>{say('What holds for all')}</span>
          <small>{settingsSummary(settings.value)}</small>
        </summary>
        <SettingsForm value={settings.value} onChange={(next) => (settings.value = next)} />
      </details>
      {ends.length > 0 && (
        <>
          <section class="card" aria-labelledby="results-title">
            <h2 id="results-title">{say('Results')}</h2>
            <p role="status">
              {say('{some} of {all} need a look', {
                some: ends.filter((end) => end.look?.needed).length,
                all: ends.length,
              })}
              {waiting > 0 && `; ${say('{n} not read yet', { n: waiting })}`}
            </p>
            {archersWithoutHand(ends).map((archer) => (
              <HandChoice
                key={archer}
                label={archer === '' ? say('Archer shoots') : say('{archer} shoots', { archer })}
                value={null}
                onChange={(hand) => sayHandOf(archer, hand)}
              />
            ))}
            {sure > 0 && (
              <button type="button" class="button primary" onClick={() => void keepSure()}>
                {count(sure, 'Keep the one that needs no look', 'Keep the {n} that need no look')}
              </button>
            )}
            <Results ends={ends} />
          </section>
          <Sheets />
        </>
      )}
    </main>
  );
}

const COLUMNS = ['Photo', 'Archer', 'Points', 'Verdict', 'Look at', 'This photo is'] as const;

function Results({ ends }: { ends: readonly EveningEnd[] }) {
  const before = async (photo: EveningEnd) => {
    const next = await takeAsBefore(photo);
    announce(
      next === null
        ? say('No end of this archer comes after it.')
        : say('{photo} is from before {next}: read again.', {
            photo: photo.place.path,
            next,
          }),
    );
  };
  const also = async (photo: EveningEnd) => {
    const last = await takeAsAlso(photo);
    if (last === null) announce(say('No end of this archer was read before it.'));
    // Where it could not be joined, the reader has said why.
    else if (last.joined) {
      announce(say('{photo} is joined to {last}.', { photo: photo.place.path, last: last.path }));
    }
  };
  const meanings = [
    { name: 'Before the next', mean: before },
    { name: 'Other side of the last', mean: also },
  ] as const;
  return (
    <div class="table-scroll" role="group" aria-label={say('Results, table')} tabIndex={0}>
      {/* What it is stays said where a narrow screen lays its rows out as blocks. */}
      <table class="figures evening-results" role="table">
        <thead role="rowgroup">
          <tr role="row">
            {COLUMNS.map((name) => (
              <th key={name} role="columnheader" scope="col">
                {say(name)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {ends.map((one) => {
            const { place, end, look } = one;
            return (
              <tr key={end.id} role="row">
                <th role="rowheader" scope="row">
                  <a href={hashOf('end', end.id)}>{place.path}</a>
                  <small>{place.takenAt?.replace('T', ' ').slice(0, 16)}</small>
                </th>
                <td role="cell">
                  <input
                    type="text"
                    aria-label={say('Archer of {photo}', { photo: place.path })}
                    maxLength={80}
                    value={end.settings.value.archer}
                    onChange={({ currentTarget: { value } }) =>
                      (end.settings.value = { ...end.settings.value, archer: value })
                    }
                  />
                </td>
                <td role="cell" data-label={say('Points')}>
                  {end.evaluation.value?.score.total ?? '–'}
                </td>
                <td role="cell">
                  {end.evaluation.value ? headline(end.evaluation.value.tuning, end) : '–'}
                </td>
                <td role="cell" data-label={say('Look at')}>
                  {look === null
                    ? end.status.value.name === 'reading'
                      ? say('being read')
                      : say('waits')
                    : look.reasons.join('; ') || say('nothing')}
                </td>
                <td role="cell">
                  {meanings.map(({ name, mean }) => (
                    <button
                      key={name}
                      type="button"
                      class="quiet-button"
                      aria-label={`${place.path}: ${say(name)}`}
                      onClick={() => void mean(one)}
                    >
                      {say(name)}
                    </button>
                  ))}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

function Sheets() {
  const openSheets = async () => {
    const { eveningSheets } = await import('../../src/evening/evening-sheets.ts');
    const ends = new Map(eveningEnds().map(({ place, end }) => [place.path, end.id]));
    const here = location.href.split('#')[0]!;
    const [all] = eveningSheets(eveningLines(), {
      bound: 'one-file',
      words: words.value,
      hrefOf: ({ photo }) => (ends.has(photo) ? here + hashOf('end', ends.get(photo)) : null),
    });
    window.open(URL.createObjectURL(new Blob([all!.html], { type: 'text/html' })));
  };
  const csv = async () => {
    const { eveningCsv } = await import('../../src/tables/evening-csv.ts');
    download(new Blob([eveningCsv(eveningLines())], { type: 'text/csv' }), 'evening.csv');
  };
  const jsonl = () => {
    const lines = eveningLines().map((line) => `${JSON.stringify(line)}\n`);
    download(new Blob(lines, { type: 'application/x-ndjson' }), 'evening.jsonl');
  };
  return (
    <section class="card" aria-labelledby="sheets-title">
      <h2 id="sheets-title">{say('Sheets and tables')}</h2>
      <div class="start-buttons">
        <button type="button" class="button" onClick={() => void openSheets()}>
          {say('Sheets to print')}
        </button>
        <button type="button" class="button" onClick={() => void csv()}>
          {say('Table (CSV)')}
        </button>
        <button type="button" class="button" onClick={jsonl}>
          {say('Results (JSONL)')}
        </button>
      </div>
    </section>
  );
}
