import { journeySheetParts } from '../../src/drawing/restore-sheet-page.ts';
import { journeySheet } from '../../src/tuning/bow/journey-sheet.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { BenchSheet } from './bench-sheet.tsx';
import { Checklist } from './checklist.tsx';
import { forgetTicks } from './ticked.ts';

interface Props {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly onClose: () => void;
}

/** What to note before a journey, and what to check at its end. */
export function JourneyView({ bow, setUp, onClose }: Props) {
  const sheet = journeySheet(bow, setUp);
  const [before, arrival] = [`before:${setUp.id}`, `arrival:${setUp.id}`];
  const startOver = () => {
    forgetTicks(before);
    forgetTicks(arrival);
  };
  return (
    <BenchSheet
      title={`On a journey with “${sheet.title}”`}
      about={`${sheet.bow}, ${sheet.hand}-handed. Bare shafts wanted: ${sheet.preferred}.`}
      values={sheet.values}
      cautions={sheet.cautions}
      print={(paper) => journeySheetParts(sheet, paper)}
      end={
        <button type="button" class="button" onClick={startOver}>
          Start over
        </button>
      }
      onClose={onClose}
    >
      <Checklist title="Before you leave" list={before} steps={sheet.before} />
      <Checklist title="On arrival, in this order" list={arrival} steps={sheet.arrival} />
    </BenchSheet>
  );
}
