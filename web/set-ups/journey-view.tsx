import { aboutJourney, journeySheetParts } from '../../src/drawing/restore-sheet-page.ts';
import { journeySheet } from '../../src/tuning/bow/journey-sheet.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { BenchSheet } from './bench-sheet.tsx';
import { Checklist } from './checklist.tsx';
import { forgetTicks } from './ticked.ts';
import { say, words } from '../state/words.ts';

interface Props {
  readonly bow: Bow;
  readonly setUp: SetUp;
  readonly onClose: () => void;
}

/** What to note before a journey, and what to check at its end. */
export function JourneyView({ bow, setUp, onClose }: Props) {
  const sheet = journeySheet(bow, setUp, words.value);
  const [before, arrival] = [`before:${setUp.id}`, `arrival:${setUp.id}`];
  const startOver = () => {
    forgetTicks(before);
    forgetTicks(arrival);
  };
  return (
    <BenchSheet
      title={say('On a journey with “{setUp}”', { setUp: sheet.title })}
      about={aboutJourney(sheet, words.value)}
      values={sheet.values}
      cautions={sheet.cautions}
      print={(paper) => journeySheetParts(sheet, paper, words.value)}
      end={
        <button type="button" class="button" onClick={startOver}>
          {say('Start over')}
        </button>
      }
      onClose={onClose}
    >
      <Checklist title={say('Before you leave')} list={before} steps={sheet.before} />
      <Checklist title={say('On arrival, in this order')} list={arrival} steps={sheet.arrival} />
    </BenchSheet>
  );
}
