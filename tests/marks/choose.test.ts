import { describe, expect, test } from 'vitest';
import { chooseArrows } from '../../src/marks/choose-arrows.ts';
import { chooseHoles, chooseNewHoles } from '../../src/marks/choose-holes.ts';
import type { HoleCandidate } from '../../src/marks/hole-candidate.ts';
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
  test('vanes are ranked by the counts of each kind', () => {
    expect(kindsByVanes([0.12, 0.24, 0.05], { fletched: 1, bare: 2 })).toEqual([
      'bare',
      'fletched',
      'bare',
    ]);
  });

  test('stay unknown where the rear end is out of the picture', () => {
    expect(kindsByVanes([null, 0.9], { fletched: 1, bare: 1 })).toEqual(['unknown', 'fletched']);
  });

  test('need no vanes where only one kind was shot', () => {
    expect(kindsByVanes([null, 0.9], { fletched: 0, bare: 2 })).toEqual(['bare', 'bare']);
  });
});
