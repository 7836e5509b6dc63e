import { expect, it } from 'vitest';
import { setUpOfFolder } from '../../src/evening/set-up-of-folder.ts';
import { bowSchema, setUpSchema } from '../../src/tuning/bow/set-up.ts';

const bow = (id: string, archerId: string, name: string, archived?: true) =>
  bowSchema.parse({ id, archerId, name, hand: 'right', adjusters: [], archived });
const setUp = (id: string, bowId: string, name: string, day: number, archived?: true) =>
  setUpSchema.parse({ id, bowId, name, date: `2031-05-0${day}T10:00:00Z`, settings: {}, archived });

const book = {
  bows: [
    bow('juna-blue', 'Juna Feldweg', 'The blue one'),
    bow('juna-old', 'Juna Feldweg', 'The old one', true),
    bow('ravi-blue', 'Ravi', 'The blue one'),
  ],
  setUps: [
    setUp('hard', 'juna-blue', 'Hard plunger', 1),
    setUp('soft', 'juna-blue', 'Soft plunger', 2),
    setUp('wrong', 'juna-blue', 'Wrongly written', 3, true),
    setUp('old', 'juna-old', 'As bought', 1),
    setUp('ravi', 'ravi-blue', 'Soft plunger', 4),
  ],
};

it.each([
  // A bow by its name: as it was written down last, whoever else has one of that name.
  ['Juna Feldweg', 'the blue  ONE', 'soft'],
  ['ravi', 'The blue one', 'ravi'],
  // A set-up by its name.
  ['Juna Feldweg', 'hard plunger', 'hard'],
  ['Juna Feldweg', 'Soft plunger', 'soft'],
  // What is archived, nobody's, another's or not said is none.
  ['Juna Feldweg', 'Wrongly written', null],
  ['Juna Feldweg', 'The old one', null],
  ['Juna Feldweg', 'Long rod', null],
  ['Tomás', 'The blue one', null],
  ['Juna Feldweg', '', null],
] as const)('%s, folder “%s”: %s', (archer, said, expected) => {
  expect(setUpOfFolder(book, { archer, bow: said })?.setUp.id ?? null).toBe(expected);
});
