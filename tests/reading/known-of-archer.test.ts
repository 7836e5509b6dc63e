import { describe, expect, test } from 'vitest';
import { knownOfShot } from '../../src/reading/known-of-archer.ts';
import type { WholeLog } from '../../src/tuning/record/bow-log.ts';

const archer = (id: string) => ({ id, name: id, hand: 'right' as const, notes: '' });
const bow = (id: string, archerId: string) => ({
  id,
  archerId,
  name: id,
  hand: 'right' as const,
  adjusters: [],
  notes: '',
});
const setUp = (id: string, bowId: string, date: string) => ({
  id,
  bowId,
  name: id,
  date,
  settings: {},
  preferredMrad: [0, 0] as [number, number],
  notes: '',
});
const session = (id: string, archerId: string, bowId: string) => ({
  id,
  archerId,
  bowId,
  setUpId: 's',
  date: '2031-05-04T18:00:00Z',
  place: '',
  setting: null,
  wind: '',
  distanceM: 50,
  face: 'wa80' as const,
  notes: '',
});
const end = (id: string, sessionId: string, shotAt: string) => ({
  id,
  sessionId,
  setUpId: 's',
  shotAt,
  arrows: [],
  scoring: 'as-printed' as const,
  missed: { fletched: 0, bare: 0 },
  photo: null,
  setAside: false,
  notes: '',
});

const LOG: WholeLog = {
  archers: [archer('juna'), archer('ravi')],
  bows: [bow('blue', 'juna'), bow('red', 'juna'), bow('green', 'ravi')],
  setUps: [
    // An hour later than the next one, though its text comes first.
    setUp('late', 'blue', '2031-05-01T10:00:00-02:00'),
    setUp('early', 'blue', '2031-05-01T11:00:00Z'),
    setUp('other', 'red', '2031-05-01T09:00:00Z'),
  ],
  sessions: [
    session('of-blue', 'juna', 'blue'),
    session('of-red', 'juna', 'red'),
    session('of-ravi', 'ravi', 'green'),
  ],
  ends: [
    end('third', 'of-red', '2031-05-04T20:00:00+02:00'),
    end('second', 'of-blue', '2031-05-04T17:30:00Z'),
    end('first', 'of-blue', '2031-05-04T17:00:00Z'),
    end('stranger', 'of-ravi', '2031-05-04T16:00:00Z'),
  ],
};
const ids = (all: readonly { readonly id: string }[]) => all.map(({ id }) => id);
const shot = (archerId: string, bowId: string | null, setUpId: string | null = null) =>
  knownOfShot(LOG, { archerId, bowId, setUpId, isThisEnd: () => false });

describe('what a log knows of who shot an end', () => {
  test('nothing of somebody who is not in it', () => {
    expect(shot('mila', null)).toBeNull();
  });

  test('all ends of the archer with every bow, set-ups of the bow alone, each in the order of time', () => {
    const known = shot('juna', 'blue', 'late')!;
    expect(known.bow?.id).toBe('blue');
    expect(ids(known.setUps)).toEqual(['early', 'late']);
    expect(ids(known.sessions)).toEqual(['of-blue', 'of-red']);
    expect(ids(known.ends)).toEqual(['first', 'second', 'third']);
    expect(known.setUpId).toBe('late');
  });

  test('the only bow of an archer needs no saying; of several none is guessed', () => {
    expect(shot('ravi', null)?.bow?.id).toBe('green');
    const unsaid = shot('juna', null, 'late')!;
    expect(unsaid).toMatchObject({ bow: null, setUps: [], setUpId: null });
    expect(ids(unsaid.ends)).toEqual(['first', 'second', 'third']);
  });

  test('a bow of somebody else is none of theirs', () => {
    expect(shot('juna', 'green')?.bow).toBeNull();
  });

  test('the end in hand counts once', () => {
    const isThisEnd = ({ id }: { readonly id: string }) => id === 'second';
    const known = knownOfShot(LOG, { archerId: 'juna', bowId: 'blue', setUpId: null, isThisEnd });
    expect(ids(known!.ends)).toEqual(['first', 'third']);
  });
});
