import { ENGLISH, type Words } from '../../words/words.ts';
import { adjusterName } from './adjuster-name.ts';
import { CAUTIONS } from './cautions.ts';
import { partOf } from './parts.ts';
import { preferredWords } from './preferred-offset.ts';
import type { Bow, SetUp } from './set-up.ts';
import { settingWords } from './setting-words.ts';

/** What to note of a bow before it travels, and what to check when it is unpacked. */
export interface JourneySheet {
  readonly title: string;
  readonly bow: string;
  readonly hand: Bow['hand'];
  readonly preferred: string;
  /** Every adjuster that was read, in the order of the work. */
  readonly values: readonly { readonly name: string; readonly reading: string }[];
  /** Adjusters that nobody has read, by name. */
  readonly unread: readonly string[];
  readonly before: readonly string[];
  /** In the order in which one upsets the next. */
  readonly arrival: readonly string[];
  readonly cautions: readonly string[];
}

/** What travels with a bow and comes loose or bends on the way is common practice, no published source. */
export function journeySheet(bow: Bow, setUp: SetUp, words: Words = ENGLISH): JourneySheet {
  const { say } = words;
  const inOrder = [...bow.adjusters].sort((a, b) => partOf(a.part).work - partOf(b.part).work);
  const read = inOrder.filter((adjuster) => setUp.settings[adjuster.id]);
  const unread = inOrder
    .filter((adjuster) => !setUp.settings[adjuster.id])
    .map((adjuster) => adjusterName(adjuster, words));
  const values = read.map((adjuster) => ({
    name: adjusterName(adjuster, words),
    reading: settingWords(adjuster, setUp.settings[adjuster.id], words),
  }));
  return {
    title: setUp.name,
    bow: bow.name,
    hand: bow.hand,
    preferred: preferredWords(setUp.preferredMrad, bow.hand, words),
    values,
    unread,
    before: [
      say('Read the bow once more and compare it with the readings here; write down what differs.'),
      ...(unread.length === 0
        ? []
        : [say('Measure and write down: {parts}.', { parts: unread.join(', ') })]),
      say(
        'Mark where nocking point, plunger and rest stand, so that you see at once what has moved.',
      ),
      say(
        'Pack a spare string that is made and shot in, spare vanes and nocks, the plunger’s tool, a square and a rule.',
      ),
      say('Keep an end with bare shafts, to compare with on arrival.'),
    ],
    arrival: [
      say('Look over limbs, string, riser and every shaft before anything is strung or shot.'),
      say('String the bow, and wait until it has the temperature of the place.'),
      ...values.map(({ name, reading }) => say('{name}: still {reading}?', { name, reading })),
      say('Try every screw and lock nut: snug, never forced.'),
      say(
        'Shoot fletched arrows first, from close; then bare shafts, and compare with the end from home.',
      ),
    ],
    cautions: [say(CAUTIONS.carbon), say(CAUTIONS.lockParts), say(CAUTIONS.bareShafts)],
  };
}
