import { restoreSheetParts } from '../../src/drawing/restore-sheet-page.ts';
import { restoreSheet } from '../../src/tuning/bow/restore-sheet.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { useFocusAtFirst } from '../parts/focus-at-first.ts';
import { Checklist, doneWords } from './checklist.tsx';
import { PrintButtons } from './print-buttons.tsx';
import { SheetReadings } from './sheet-readings.tsx';
import { forgetTicks } from './ticked.ts';

interface Props {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly present: SetUp | null;
  /** The bow is set like this now. */
  readonly onDone: () => void;
  readonly onClose: () => void;
}

/** How to put the bow back to a set-up, to tick off at the bench or to print. */
export function RestoreSheetView({ bow, setUp, present, onDone, onClose }: Props) {
  const heading = useFocusAtFirst<HTMLHeadingElement>();
  const sheet = restoreSheet(bow, setUp, present ?? undefined);
  const list = `restore:${setUp.id}`;
  return (
    <article class="card sheet">
      <h2 ref={heading} tabIndex={-1}>
        Back to “{sheet.title}”
      </h2>
      <p class="quiet">
        {sheet.bow}, {sheet.hand}-handed, written down {dateWords(sheet.date)}. Bare shafts wanted:{' '}
        {sheet.preferred}.
      </p>
      <SheetReadings values={sheet.values} />
      <div class="section-head">
        <h3>The work, in this order</h3>
        <span class="quiet">{doneWords(list, sheet.work)}</span>
      </div>
      <Checklist list={list} steps={sheet.work} />
      <ul class="cautions" aria-label="Cautions">
        {sheet.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <button
        type="button"
        class="button primary"
        onClick={() => {
          forgetTicks(list);
          onDone();
        }}
      >
        Done: this set-up is in use
      </button>
      <PrintButtons sheet={(paper) => restoreSheetParts(sheet, paper)} />
      <button type="button" class="button" onClick={onClose}>
        Close
      </button>
    </article>
  );
}

function dateWords(iso: string): string {
  return new Date(iso).toLocaleDateString(undefined, { dateStyle: 'long' });
}
