import { restoreSheet } from '../../src/tuning/bow/restore-sheet.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';

interface Props {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly present: SetUp | null;
  readonly onClose: () => void;
}

/** How to put the bow back to a set-up, to read at the bench or to print. */
export function RestoreSheetView({ bow, setUp, present, onClose }: Props) {
  const sheet = restoreSheet(bow, setUp, present ?? undefined);
  return (
    <article class="card sheet">
      <h2>Back to “{sheet.title}”</h2>
      <p class="quiet">
        {sheet.bow}, {sheet.hand}-handed, written down {dateWords(sheet.date)}. Bare shafts wanted:{' '}
        {sheet.preferred}.
      </p>
      <table class="figures">
        <caption>Readings</caption>
        <tbody>
          {sheet.values.map((value) => (
            <tr key={value.name}>
              <th scope="row">{value.name}</th>
              <td>{value.reading}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>The work, in this order</h3>
      <ol class="work">
        {sheet.work.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <ul class="cautions" aria-label="Cautions">
        {sheet.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <div class="button-row">
        <button type="button" class="button" onClick={() => print()}>
          Print
        </button>
        <button type="button" class="button" onClick={onClose}>
          Close
        </button>
      </div>
    </article>
  );
}

function dateWords(iso: string): string {
  return new Date(iso).toLocaleDateString(undefined, { dateStyle: 'long' });
}
