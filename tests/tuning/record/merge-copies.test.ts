import { describe, expect, it } from 'vitest';
import { mergeStep, type Copies } from '../../../src/tuning/record/merge-copies.ts';

const OLD = { name: 'First', settings: { brace: 220 } };
const MINE = { ...OLD, name: 'Mine' };
const THEIRS = { ...OLD, name: 'Theirs' };
const step = (copies: Partial<Copies<typeof OLD>>) =>
  mergeStep({ here: undefined, there: undefined, agreed: undefined, isShotWith: false, ...copies });

describe('two copies of one record', () => {
  it.each([
    ['the same', { here: OLD, there: { settings: OLD.settings, name: 'First' } }, 'none'],
    ['new here', { here: OLD }, 'send'],
    ['new there', { there: OLD }, 'take'],
    ['changed here', { here: MINE, there: OLD, agreed: OLD }, 'send'],
    ['changed there', { here: OLD, there: THEIRS, agreed: OLD }, 'take'],
    ['changed on both sides', { here: MINE, there: THEIRS, agreed: OLD }, 'changed-elsewhere'],
    ['changed alike on both sides', { here: MINE, there: { ...MINE }, agreed: OLD }, 'none'],
    ['deleted here', { there: OLD, agreed: OLD }, 'delete-there'],
    ['deleted here, changed there', { there: THEIRS, agreed: OLD }, 'take'],
    ['deleted there', { here: OLD, agreed: OLD }, 'deleted-elsewhere'],
    ['deleted there, shot with here', { here: OLD, agreed: OLD, isShotWith: true }, 'send'],
    ['deleted there, changed here', { here: MINE, agreed: OLD }, 'deleted-elsewhere'],
    ['deleted on both sides', { agreed: OLD }, 'none'],
    ['never agreed on', { here: MINE, there: THEIRS }, 'changed-elsewhere'],
  ] as const)('%s', (_words, copies, expected) => {
    expect(step(copies)).toBe(expected);
  });
});
