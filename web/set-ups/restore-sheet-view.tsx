import { restoreSheetParts } from '../../src/drawing/restore-sheet-page.ts';
import { restoreSheet } from '../../src/tuning/bow/restore-sheet.ts';
import type { Bow, SetUp } from '../../src/tuning/bow/set-up.ts';
import { BenchSheet } from './bench-sheet.tsx';
import { Checklist } from './checklist.tsx';
import { forgetTicks } from './ticked.ts';
import { say, words } from '../state/words.ts';

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
  const sheet = restoreSheet(bow, setUp, present ?? undefined, words.value);
  const list = `restore:${setUp.id}`;
  const about = say('{bow}, {hand}, written down {day}. Bare shafts wanted: {preferred}.', {
    bow: sheet.bow,
    hand: say(`${sheet.hand}-handed`),
    day: words.value.day(sheet.date, 'long'),
    preferred: sheet.preferred,
  });
  return (
    <BenchSheet
      title={say('Back to “{setUp}”', { setUp: sheet.title })}
      about={about}
      values={sheet.values}
      cautions={sheet.cautions}
      print={(paper) => restoreSheetParts(sheet, paper, words.value)}
      end={
        <button
          type="button"
          class="button primary"
          onClick={() => {
            forgetTicks(list);
            onDone();
          }}
        >
          {say('Done: this set-up is in use')}
        </button>
      }
      onClose={onClose}
    >
      <Checklist title={say('The work, in this order')} list={list} steps={sheet.work} />
    </BenchSheet>
  );
}
