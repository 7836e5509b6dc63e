import { describe, expect, it } from 'vitest';
import { archerIds } from '../../../src/tuning/record/archer-id.ts';
import { archerSchema } from '../../../src/tuning/record/session.ts';

const idOf = archerIds();

describe('ids of archers', () => {
  it('are the name where the name alone tells who it is', () => {
    expect(idOf('Ilka Brandt')).toBe('ilka-brandt');
    expect(idOf(' ilka  BRANDT ')).toBe('ilka-brandt');
    expect(idOf('No name')).toBe('no-name');
  });

  it('differ for every two names that a person would tell apart', () => {
    const names = [
      'Anna Lena',
      'Anna-Lena',
      'Anna, Lena',
      'Tomás Ferro',
      'Tomas Ferro',
      'Toma S Ferro',
      'Tomaś Ferro',
      'Maximiliane von und zu Hohenfels',
      'Maximiliane von und zu Hohenfels die Jüngere',
      'Maximiliane von und zu Hohenau',
      '★',
      '☆',
      'archer',
      '李明',
      '李 明',
    ];
    const ids = names.map(idOf);
    expect(new Set(ids).size).toBe(names.length);
    // An id of a session is made of it, of 80 letters at most.
    for (const id of ids) expect(archerSchema.shape.id.parse(id).length).toBeLessThanOrEqual(28);
    expect(idOf('Tomás Ferro')).toBe(idOf('Toma\u0301s Ferro'));
  });

  it('are those under which the log has the archers already', () => {
    const ids = archerIds([
      { id: 'toma-s-ferro', name: 'Tomás Ferro' },
      { id: 'paired-7', name: 'Ilka Brandt' },
    ]);
    expect([ids('tomás ferro'), ids('Ilka Brandt'), ids('Juna')]).toEqual([
      'toma-s-ferro',
      'paired-7',
      'juna',
    ]);
  });
});
