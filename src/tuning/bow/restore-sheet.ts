import { CAUTIONS } from './cautions.ts';
import { preferredWords } from './preferred-offset.ts';
import type { AdjusterPart, Bow, SetUp } from './set-up.ts';
import { setUpDifference } from './set-up-difference.ts';
import { settingWords } from './setting-words.ts';

export interface RestoreSheet {
  readonly title: string;
  readonly bow: string;
  readonly hand: Bow['hand'];
  readonly date: string;
  readonly notes: string;
  readonly preferred: string;
  /** Every adjuster that was read, in the order of the work. */
  readonly values: readonly { readonly name: string; readonly reading: string }[];
  /** Numbered steps. Where the present set-up is known only what differs is changed. */
  readonly work: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * Each step upsets those after it and none before it: the arrow and the limbs first, the plunger
 * last (common practice, no published source).
 */
const ORDER: readonly AdjusterPart[] = [
  'spine',
  'arrow-length',
  'point-mass',
  'shaft-diameter',
  'limb-bolts',
  'draw-weight',
  'tiller',
  'brace-height',
  'nocking-point',
  'centre-shot',
  'plunger-spring',
  'plunger',
  'own',
];

const LIMBS: readonly AdjusterPart[] = ['limb-bolts', 'draw-weight', 'tiller'];
const ARROW: readonly AdjusterPart[] = ['spine', 'arrow-length', 'point-mass', 'shaft-diameter'];

/** How to put a bow back to a set-up, as plain data for a page to print. */
export function restoreSheet(bow: Bow, setUp: SetUp, present?: SetUp): RestoreSheet {
  const place = ({ part }: { part: AdjusterPart }) => ORDER.indexOf(part);
  const adjusters = bow.adjusters
    .filter((adjuster) => setUp.settings[adjuster.id])
    .sort((a, b) => place(a) - place(b));
  const changes = present
    ? new Map(setUpDifference(bow, present, setUp).map((one) => [one.adjusterId, one]))
    : null;
  const work: string[] = [
    present
      ? 'Read the bow as it is now and compare it with the list you came from.'
      : 'Read the bow as it is now and keep that as a set-up, so that you can come back.',
  ];
  const touched = new Set<AdjusterPart>();
  for (const adjuster of adjusters) {
    const change = changes?.get(adjuster.id);
    if (changes && !change) continue;
    touched.add(adjuster.part);
    const reading = settingWords(adjuster, setUp.settings[adjuster.id]);
    const by = !change || change.change === null ? '' : ` (now ${change.from}: ${change.words})`;
    work.push(`${adjuster.name}: set to ${reading}${by}.`);
  }
  if (touched.size === 0) work.push('Nothing differs: there is nothing to change.');
  else {
    work.push(
      'Lock every part you loosened: main thread first, then the lock nut; snug, never forced.',
    );
    work.push('Measure tiller, brace height and nocking point once more: one moves the other.');
    work.push('Shoot fletched arrows first, from close; then bare shafts, and keep that end.');
  }
  const any = (parts: readonly AdjusterPart[]) => parts.some((part) => touched.has(part));
  return {
    title: setUp.name,
    bow: bow.name,
    hand: bow.hand,
    date: setUp.date,
    notes: setUp.notes,
    preferred: preferredWords(setUp.preferredMrad, bow.hand),
    values: adjusters.map((adjuster) => ({
      name: adjuster.name,
      reading: settingWords(adjuster, setUp.settings[adjuster.id]),
    })),
    work,
    cautions: [
      CAUTIONS.lockParts,
      ...(any(LIMBS) ? [CAUTIONS.limbBolts] : []),
      ...(any(LIMBS) || any(ARROW) ? [CAUTIONS.weakArrow, CAUTIONS.carbon] : []),
      CAUTIONS.bareShafts,
    ],
  };
}
