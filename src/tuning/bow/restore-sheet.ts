import { ENGLISH, type Words } from '../../words/words.ts';
import { adjusterName } from './adjuster-name.ts';
import { CAUTIONS, type CautionName } from './cautions.ts';
import { partOf, PARTS, type AdjusterPart } from './parts.ts';
import { preferredWords } from './preferred-offset.ts';
import type { Bow, SetUp } from './set-up.ts';
import { setUpDifference } from './set-up-difference.ts';
import { settingWords } from './setting-words.ts';

export interface SheetValue {
  readonly name: string;
  readonly reading: string;
  /** Whether the work sets it; else the bow has it already. */
  readonly isSet: boolean;
}

export interface RestoreSheet {
  readonly title: string;
  readonly bow: string;
  readonly hand: Bow['hand'];
  readonly date: string;
  readonly notes: string;
  readonly preferred: string;
  /** Every adjuster that was read, in the order of the work. */
  readonly values: readonly SheetValue[];
  /** Numbered steps. Where the present set-up is known only what differs is changed. */
  readonly work: readonly string[];
  readonly cautions: readonly string[];
}

/** What is measured again after the work, in its order. */
const MEASURED_AGAIN = Object.values(PARTS)
  .sort((a, b) => a.work - b.work)
  .flatMap(({ measuredAgain }) => measuredAgain ?? []);

/** Cautions in the order in which a sheet has them; these two are on every sheet. */
const FIRST: CautionName = 'lockParts';
const BETWEEN: readonly CautionName[] = [
  'limbBolts',
  'nockingPoint',
  'weakArrow',
  'carbon',
  'coach',
];
const LAST: CautionName = 'bareShafts';

/** How to put a bow back to a set-up, as plain data for a page to print. */
export function restoreSheet(
  bow: Bow,
  setUp: SetUp,
  present?: SetUp,
  words: Words = ENGLISH,
): RestoreSheet {
  const { say } = words;
  const adjusters = bow.adjusters
    .filter((adjuster) => setUp.settings[adjuster.id])
    .sort((a, b) => partOf(a.part).work - partOf(b.part).work);
  const changes = present
    ? new Map(setUpDifference(bow, present, setUp, words).map((one) => [one.adjusterId, one]))
    : null;
  const work: string[] = [
    say(
      present
        ? 'Read the bow as it is now and compare it with the list you came from.'
        : 'Read the bow as it is now and keep that as a set-up, so that you can come back.',
    ),
  ];
  const touched = new Set<AdjusterPart>();
  for (const adjuster of adjusters) {
    const change = changes?.get(adjuster.id);
    if (changes && !change) continue;
    touched.add(adjuster.part);
    const name = adjusterName(adjuster, words);
    const reading = settingWords(adjuster, setUp.settings[adjuster.id], words);
    work.push(
      !change || change.change === null
        ? say('{name}: set to {reading}.', { name, reading })
        : say('{name}: set to {reading} (now {from}: {change}).', {
            name,
            reading,
            from: change.from,
            change: change.words,
          }),
    );
  }
  if (touched.size === 0) work.push(say('Nothing differs: there is nothing to change.'));
  else {
    const again = words.list(MEASURED_AGAIN.map((name) => say(name)));
    work.push(
      say(
        'Lock every part you loosened: main thread first, then the lock nut; snug, never forced.',
      ),
      say('Measure {parts} once more: one moves the other.', { parts: again }),
      say('Shoot fletched arrows first, from close; then bare shafts, and keep that end.'),
    );
  }
  const called = new Set([...touched].flatMap((part) => partOf(part).cautions.restore));
  return {
    title: setUp.name,
    bow: bow.name,
    hand: bow.hand,
    date: setUp.date,
    notes: setUp.notes,
    preferred: preferredWords(setUp.preferredMrad, bow.hand, words),
    values: adjusters.map((adjuster) => ({
      name: adjusterName(adjuster, words),
      reading: settingWords(adjuster, setUp.settings[adjuster.id], words),
      isSet: changes === null || changes.has(adjuster.id),
    })),
    work,
    cautions: [FIRST, ...BETWEEN.filter((name) => called.has(name)), LAST].map((name) =>
      say(CAUTIONS[name]),
    ),
  };
}
