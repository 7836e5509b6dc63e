import { journeySheetParts } from '../../src/drawing/restore-sheet-page.ts';
import { journeySheet } from '../../src/tuning/bow/journey-sheet.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { useFocusAtFirst } from '../parts/focus-at-first.ts';
import { Checklist, doneWords } from './checklist.tsx';
import { PrintButtons } from './print-buttons.tsx';
import { SheetReadings } from './sheet-readings.tsx';
import { forgetTicks } from './ticked.ts';

interface Props {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly onClose: () => void;
}

/** What to note before a journey, and what to check at its end. */
export function JourneyView({ bow, setUp, onClose }: Props) {
  const heading = useFocusAtFirst<HTMLHeadingElement>();
  const sheet = journeySheet(bow, setUp);
  const [before, arrival] = [`before:${setUp.id}`, `arrival:${setUp.id}`];
  return (
    <article class="card sheet">
      <h2 ref={heading} tabIndex={-1}>
        On a journey with “{sheet.title}”
      </h2>
      <p class="quiet">
        {sheet.bow}, {sheet.hand}-handed. Bare shafts wanted: {sheet.preferred}.
      </p>
      <SheetReadings values={sheet.values} />
      <div class="section-head">
        <h3>Before you leave</h3>
        <span class="quiet">{doneWords(before, sheet.before)}</span>
      </div>
      <Checklist list={before} steps={sheet.before} />
      <div class="section-head">
        <h3>On arrival, in this order</h3>
        <span class="quiet">{doneWords(arrival, sheet.arrival)}</span>
      </div>
      <Checklist list={arrival} steps={sheet.arrival} />
      <ul class="cautions" aria-label="Cautions">
        {sheet.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <PrintButtons sheet={(paper) => journeySheetParts(sheet, paper)} />
      <div class="button-row">
        <button
          type="button"
          class="button"
          onClick={() => {
            forgetTicks(before);
            forgetTicks(arrival);
          }}
        >
          Start over
        </button>
        <button type="button" class="button" onClick={onClose}>
          Close
        </button>
      </div>
    </article>
  );
}
