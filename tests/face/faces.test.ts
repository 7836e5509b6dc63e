import { describe, expect, it } from 'vitest';
import { FACES, outerRadiusMm, ringRadiiMm } from '../../src/face/faces.ts';
import { zoneAt } from '../../src/face/line-rule.ts';

/*
 * World Archery Rule Book, Book 2, "Target faces" (layout read in a published summary): ten zones of
 * equal width, so zone k ends at D(11 - k)/20 from the centre; the dividing line lies wholly inside
 * the higher zone. Ten-ring of the 122 cm face: 12.2 cm in diameter.
 */
describe('printed faces', () => {
  it.each([
    ['wa122', 1220],
    ['wa80', 800],
    ['wa60', 600],
    ['wa40', 400],
  ] as const)('divides %s into ten equal zones', (id, diameterMm) => {
    const zones = FACES[id].zones;
    expect(zones.map((zone) => zone.value)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    for (const zone of zones) {
      expect(zone.outerRadiusMm).toBeCloseTo((diameterMm * (11 - zone.value)) / 20, 9);
    }
  });

  it('gives the 122 cm face a ten of 12.2 cm', () => {
    expect(2 * FACES.wa122.zones.at(-1)!.outerRadiusMm).toBe(122);
  });

  // From memory: inner tens of 6.1, 4, 3 and 2 cm, half the ten in each case.
  it.each([
    ['wa122', 30.5],
    ['wa80', 20],
    ['wa80-6', 20],
    ['wa60', 15],
    ['wa40', 10],
    ['wa40-triple-vertical', 10],
    ['wa40-triple-triangular', 10],
    ['wa60-triple-vertical', 15],
    ['wa60-triple-triangular', 15],
  ] as const)('prints an inner ten of %s at %s mm', (id, radiusMm) => {
    expect(FACES[id].innerRadiusMm).toBe(radiusMm);
  });

  it('prints colours in pairs from the middle: yellow, red, blue, black, white', () => {
    const inks = [...FACES.wa80.zones].reverse().map((zone) => zone.ink);
    expect(inks).toEqual([
      ...['yellow', 'yellow', 'red', 'red', 'blue'],
      ...['blue', 'black', 'black', 'white', 'white'],
    ]);
  });

  // From memory: field faces end their zones 6 to 1 at D/20, D/10, D/5, 3D/10, 2D/5, D/2.
  it.each(['field-80', 'field-60', 'field-40', 'field-20'] as const)('lays out %s', (id) => {
    const diameterMm = Number(id.slice('field-'.length)) * 10;
    const radii = Object.fromEntries(FACES[id].zones.map((z) => [z.value, z.outerRadiusMm]));
    expect(radii).toEqual({
      6: diameterMm / 20,
      5: diameterMm / 10,
      4: diameterMm / 5,
      3: (3 * diameterMm) / 10,
      2: (2 * diameterMm) / 5,
      1: diameterMm / 2,
    });
  });

  // Rules of the International Field Archery Association: black spot, white inner and black outer ring
  // (as a maker of its faces and a club describe the field round), worth 5, 4 and 3. Spots of 13, 10, 7
  // and 4 cm, inner rings of 39, 30, 21 and 12 cm, and the tie ring of half a spot: from memory.
  it.each([
    ['ifaa65', 65, 39, 13],
    ['ifaa50', 50, 30, 10],
    ['ifaa35', 35, 21, 7],
    ['ifaa20', 20, 12, 4],
  ] as const)('lays out %s', (id, outerCm, innerCm, spotCm) => {
    expect(FACES[id].zones.map((z) => [z.value, z.ink, z.outerRadiusMm / 5])).toEqual([
      [3, 'black', outerCm],
      [4, 'white', innerCm],
      [5, 'black', spotCm],
    ]);
    expect(FACES[id].innerRadiusMm! / 5).toBe(spotCm / 2);
  });

  // The same body's rules, "Indoor Round", read as published in 2019: a face of 40 cm in dull blue
  // (282C), its lines white, a white bull's-eye of 8 cm with a ring of 4 cm that parts ties; 16 cm for
  // the next zone, from its sheet of five spots. Worth 5 to 1 from the middle, as a page on the indoor
  // round has it; equal widths farther out: from memory.
  it('lays out ifaa40-indoor', () => {
    const { zones, innerRadiusMm, innerLine } = FACES['ifaa40-indoor'];
    expect(zones.map((z) => [z.value, z.ink, z.outerRadiusMm / 5])).toEqual([
      [1, 'navy', 40],
      [2, 'navy', 32],
      [3, 'navy', 24],
      [4, 'navy', 16],
      [5, 'white', 8],
    ]);
    expect(zones.slice(1, 4).every(({ line }) => line === 'light')).toBe(true);
    expect([innerRadiusMm! / 5, innerLine]).toEqual([4, 'dark']);
  });

  // World Archery rule book, Book 2, indoor target faces, as an encyclopaedia's summary has it ("Target
  // archery"): zones 6 to 10 of the 40 or 60 cm face, three in a vertical row or an equilateral
  // triangle. 22 and 32 cm between centres: from memory.
  it.each([
    ['wa40-triple-vertical', 'wa40', 220],
    ['wa40-triple-triangular', 'wa40', 220],
    ['wa60-triple-vertical', 'wa60', 320],
    ['wa60-triple-triangular', 'wa60', 320],
  ] as const)('prints %s with the inner zones of %s, %s mm apart', (id, whole, apartMm) => {
    const sheet = FACES[id];
    expect(sheet.zones).toEqual(FACES[whole].zones.filter(({ value }) => value >= 6));
    const [a, b, c] = sheet.spotCentresMm as [[number, number], [number, number], [number, number]];
    const apart = (from: [number, number], to: [number, number]) =>
      Math.hypot(from[0] - to[0], from[1] - to[1]);
    expect(apart(a, b)).toBeCloseTo(apartMm, 9);
    expect(apart(b, c)).toBeCloseTo(apartMm, 9);
    expect(apart(a, c)).toBeCloseTo(id.endsWith('vertical') ? 2 * apartMm : apartMm, 9);
    expect(a[0] + b[0] + c[0]).toBeCloseTo(0, 9);
    expect(a[1] + b[1] + c[1]).toBeCloseTo(0, 9);
  });

  it('lists rings outermost first with the inner ten last', () => {
    expect(ringRadiiMm(FACES['wa80-6'])).toEqual([240, 200, 160, 120, 80, 40, 20]);
    expect(outerRadiusMm(FACES['wa40-triple-vertical'])).toBe(100);
  });
});

describe('the line rule', () => {
  const face = FACES.wa80;

  it('counts the higher zone when the shaft touches the line', () => {
    // 40 mm ring, 6 mm shaft: the axis may lie 43 mm out and still touch.
    expect(zoneAt(face, [43, 0], 6).value).toBe(10);
    expect(zoneAt(face, [0, 43.001], 6).value).toBe(9);
  });

  it('judges the inner ten by the same touch', () => {
    expect(zoneAt(face, [0, -22.9], 6).inner).toBe(true);
    expect(zoneAt(face, [0, -23.1], 6).inner).toBe(false);
  });

  it('is a miss beyond the outermost line, for cut-down faces at their own edge', () => {
    expect(zoneAt(face, [403, 0], 6).value).toBe(1);
    expect(zoneAt(face, [403.1, 0], 6).value).toBe(0);
    expect(zoneAt(FACES['wa80-6'], [243.1, 0], 6).value).toBe(0);
    expect(zoneAt(FACES['wa40-triple-vertical'], [0, 103.1], 6).value).toBe(0);
  });

  it('gives a thicker shaft the better of a close call', () => {
    expect(zoneAt(face, [83, 0], 4).value).toBe(8);
    expect(zoneAt(face, [83, 0], 9.3).value).toBe(9);
  });

  it('measures how far inside the nearest line the shaft reaches', () => {
    expect(zoneAt(face, [42, 0], 6).marginMm).toBeCloseTo(1, 9);
    expect(zoneAt(face, [45, 0], 6).marginMm).toBeCloseTo(-2, 9);
  });
});
