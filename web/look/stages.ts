import type { PlainText } from '../../src/words/words.ts';

/** Stages of a reading as the worker names them, with the words for people. */
export const STAGES: readonly (readonly [id: string, words: PlainText])[] = [
  ['decode', 'Opening the photo'],
  ['load', 'Getting the reader ready'],
  ['face', 'Finding the face and its rings'],
  ['before', 'Comparing with the photo from before'],
  ['marks', 'Looking for arrows'],
  ['also', 'Joining it with the second photo'],
  ['score', 'Scoring and grouping'],
];
