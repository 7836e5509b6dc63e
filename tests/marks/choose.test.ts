import { describe, expect, test } from 'vitest';
import { chooseArrows } from '../../src/marks/choose-arrows.ts';
import { chooseHoles, chooseNewHoles } from '../../src/marks/choose-holes.ts';
import type { HoleCandidate } from '../../src/marks/candidates/hole-candidate.ts';
import { kindsByVanes } from '../../src/marks/kinds-by-vanes.ts';
import type { StandingArrow } from '../../src/marks/standing/standing-arrows.ts';

const hole = (probability: number, freshness = 0): HoleCandidate => ({
  spot: 0,
  mm: [0, 0],
  sdMm: 0.3,
  probability,
  freshness,
});

const arrow = (probability: number): StandingArrow => ({
  spot: 0,
  mm: [0, 0],
  sdMm: 0.5,
  probability,
  along: [1, 0],
  lengthMm: 200,
  runsOut: false,
  hidden: false,
});

describe('the number of arrows shot', () => {
  test('ranks holes: the likeliest are fresh, the others old', () => {
    const { chosen, warnings } = chooseHoles([hole(0.99, 9), hole(0.99, 3), hole(0.99, 8)], 2);
    expect(chosen.map(({ age, hole: { freshness } }) => [freshness, age])).toEqual(
      expect.arrayContaining([
        [9, 'fresh'],
        [8, 'fresh'],
        [3, 'old'],
      ]),
    );
    expect(warnings).toEqual([]);
  });

  test('never invents a mark, and says what is missing', () => {
    const { chosen, warnings } = chooseHoles([hole(0.9), hole(0.05), hole(0.03)], 3);
    expect(chosen).toHaveLength(1);
    expect(warnings[0]).toMatch(/3 arrows shot, 1 found: 2 may be hidden/);
  });

  test('flags more new marks than arrows', () => {
    const { chosen, warnings } = chooseNewHoles([hole(0.9), hole(0.8)], [hole(0.9)], 1);
    expect(chosen.map(({ age }) => age)).toEqual(['fresh', 'old', 'old']);
    expect(warnings[0]).toMatch(/2 marks are new .* 1 arrow/);
  });
});

test('without a count, thresholds stand on their own', () => {
  const { chosen, warnings } = chooseHoles([hole(0.9), hole(0.3)], undefined);
  expect(chosen.map(({ age }) => age)).toEqual(['unknown']);
  expect(warnings).toEqual([]);
});

describe('standing arrows', () => {
  test('none when nothing is likely', () => {
    expect(chooseArrows([arrow(0.3)], { fletched: 1, bare: 0 }).arrows).toEqual([]);
  });
});

describe('kinds of standing arrows', () => {
  test('what is seen decides where nothing else is known', () => {
    expect(kindsByVanes([0.9, 0.1, 0.5, null], {})).toEqual([
      'fletched',
      'bare',
      'unknown',
      'unknown',
    ]);
  });

  test('the counts decide between arrows that look much alike', () => {
    expect(kindsByVanes([0.6, 0.95, 0.55, 0.7], { fletched: 1, bare: 3 })).toEqual([
      'bare',
      'fletched',
      'bare',
      'bare',
    ]);
  });

  test('an arrow whose rear end is not seen is of the kind that is left', () => {
    expect(kindsByVanes([null, 0.95], { fletched: 1, bare: 1 })).toEqual(['bare', 'fletched']);
    // Of three shot one was not found: it may be the bare one.
    expect(kindsByVanes([null, 0.95], { fletched: 2, bare: 1 })).toEqual(['unknown', 'fletched']);
  });

  test('counts multiply as Bayes says', () => {
    // One of each: odds (0.7 / 0.3) (0.6 / 0.4)^-1 = 1.56 to one for the first to be the fletched
    // one, 0.61; three quarters are wanted to call it.
    expect(kindsByVanes([0.7, 0.6], { fletched: 1, bare: 1 })).toEqual(['unknown', 'unknown']);
    // (0.7 / 0.3) (0.4 / 0.6)^-1 = 3.5 to one, 0.78.
    expect(kindsByVanes([0.7, 0.4], { fletched: 1, bare: 1 })).toEqual(['fletched', 'bare']);
  });

  test('need no vanes where only one kind was shot', () => {
    expect(kindsByVanes([null, 0.9], { fletched: 0, bare: 2 })).toEqual(['bare', 'bare']);
  });
});
