import { describe, expect, it } from 'vitest';
import { FACE_IDS, FACES, FAMILIES, type Family } from '../../src/face/faces.ts';
import { inkBands, lookOf, lookOfFamily, LOOKS, middleSpot } from '../../src/face/looks.ts';

describe('looks of faces, derived from their entries', () => {
  it.each(FACE_IDS)('%s looks like the other faces of its family', (id) => {
    const own = inkBands(FACES[id]);
    const family = lookOfFamily(FACES[id].family);
    expect(own.map(({ ink }) => ink)).toEqual(family.bands.map(({ ink }) => ink));
    own.forEach(({ reach }, i) => expect(reach).toBeCloseTo(family.bands[i]!.reach, 9));
  });

  it('names as usual a face of the family itself', () => {
    for (const family of Object.keys(FAMILIES) as Family[]) {
      expect(FACES[FAMILIES[family].usual].family).toBe(family);
    }
  });

  // From the layouts of the rule book: colours end at 2, 4, 6, 8 and 10 tenths of the outermost radius.
  it('ends the inks of ten zones at even multiples of the yellow', () => {
    expect(inkBands(FACES.wa122)).toEqual([
      { ink: 'yellow', reach: 1, ring: 8 },
      { ink: 'red', reach: 2, ring: 6 },
      { ink: 'blue', reach: 3, ring: 4 },
      { ink: 'black', reach: 4, ring: 2 },
      { ink: 'white', reach: 5, ring: 0 },
    ]);
  });

  it('sees no border where white print meets white paper', () => {
    expect(lookOfFamily('ten-ring').borders).toBe(4);
    expect(lookOfFamily('six-ring').borders).toBe(3);
    expect(lookOfFamily('field').borders).toBe(2);
    expect(lookOfFamily('black-and-white').borders).toBe(3);
    expect(lookOfFamily('blue-and-white').borders).toBe(2);
  });

  it('takes faces for one look whose inks follow one another alike, though one ends before', () => {
    expect(lookOf('six-ring')).toBe(lookOf('ten-ring'));
    expect(lookOf('triple')).toBe(lookOf('ten-ring'));
    expect(lookOf('field')).not.toBe(lookOf('ten-ring'));
    const families = LOOKS.flatMap((look) => look.families.map(({ family }) => family));
    expect([...families].sort()).toEqual(Object.keys(FAMILIES).sort());
  });

  it('knows the spot in the middle of a sheet', () => {
    expect(middleSpot(FACES['wa40-triple-vertical'])).toBe(1);
    expect(middleSpot(FACES.wa80)).toBe(0);
    expect(middleSpot(FACES['wa40-triple-triangular'])).toBe(0);
  });
});
