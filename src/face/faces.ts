/**
 * Target faces as printed: zone radii, spots and inks.
 *
 * Lengths are millimetres. A dividing line lies wholly inside the higher-scoring zone, so the radius
 * of a ring is the outer edge of its line (World Archery rule book, Book 2 "Target faces"; the layout
 * was read in a published summary of it). Each face is held to its source in tests/face/faces.test.ts.
 */
import type { PlainText } from '../words/words.ts';

export const FACE_IDS = [
  'wa122',
  'wa80',
  'wa80-6',
  'wa80-5',
  'wa60',
  'wa40',
  'wa40-5',
  'wa40-triple-vertical',
  'wa40-triple-triangular',
  'wa60-triple-vertical',
  'wa60-triple-triangular',
  'field-80',
  'field-60',
  'field-40',
  'field-20',
  'ifaa65',
  'ifaa50',
  'ifaa35',
  'ifaa20',
  'ifaa40-indoor',
] as const;

export type FaceId = (typeof FACE_IDS)[number];

/** Printed colour classes; the actual colour is estimated per photo. */
export type Ink = 'yellow' | 'red' | 'blue' | 'navy' | 'black' | 'white';

export interface Zone {
  readonly value: number;
  /** Outer edge of the zone's dividing line. */
  readonly outerRadiusMm: number;
  readonly ink: Ink;
  /** Colour of the line at the zone's outer edge, null where none is printed. */
  readonly line: 'dark' | 'light' | null;
}

/** What is to be known of the faces of one family. */
interface FamilyEntry {
  /** Which face of the family is meant, after 'choose'. */
  readonly called: PlainText;
  /** What a photo of it shows, where another look was expected. */
  readonly seenAs: PlainText;
  /** What one is taken for when nobody says its size. */
  readonly usual: FaceId;
  /** Whether it is printed in one size only, so that it need not be asked for. */
  readonly oneSize: boolean;
}

/** Faces of one family look alike in a photo: only the person knows the printed size. */
export const FAMILIES = {
  'ten-ring': {
    called: 'the face with ten zones',
    seenAs: 'a face with coloured rings',
    usual: 'wa80',
    oneSize: false,
  },
  'six-ring': {
    called: 'the face with six zones',
    seenAs: 'a face with coloured rings',
    usual: 'wa80-6',
    oneSize: false,
  },
  'five-ring': {
    called: 'the face with five zones',
    seenAs: 'a face with coloured rings',
    usual: 'wa80-5',
    oneSize: false,
  },
  triple: {
    called: 'the sheet with three spots one above another',
    seenAs: 'a face with coloured rings',
    usual: 'wa40-triple-vertical',
    oneSize: false,
  },
  'triple-triangular': {
    called: 'the sheet with three spots in a triangle',
    seenAs: 'a face with coloured rings',
    usual: 'wa40-triple-triangular',
    oneSize: false,
  },
  field: {
    called: 'the field face',
    seenAs: 'a field face',
    usual: 'field-40',
    oneSize: false,
  },
  'black-and-white': {
    called: 'the black and white field face',
    seenAs: 'a black and white field face',
    usual: 'ifaa50',
    oneSize: false,
  },
  'blue-and-white': {
    called: 'the blue and white indoor face',
    seenAs: 'a blue and white indoor face',
    usual: 'ifaa40-indoor',
    oneSize: true,
  },
} as const satisfies Record<string, FamilyEntry>;

export type Family = keyof typeof FAMILIES;

export interface Face {
  readonly id: FaceId;
  /** What a person calls it. */
  readonly name: PlainText;
  readonly family: Family;
  /** Outermost first. */
  readonly zones: readonly Zone[];
  /** Radius of the inner-ten ring (on field faces: of the 6), null where none is printed. */
  readonly innerRadiusMm: number | null;
  /** Colour of that ring's line. */
  readonly innerLine: Zone['line'];
  /** Spot centres on the sheet from its middle, x right, y up; top to bottom, left to right. */
  readonly spotCentresMm: readonly (readonly [number, number])[];
}

const TARGET_INKS: Record<number, Ink> = {
  10: 'yellow',
  9: 'yellow',
  8: 'red',
  7: 'red',
  6: 'blue',
  5: 'blue',
  4: 'black',
  3: 'black',
  2: 'white',
  1: 'white',
};

/** Line at a zone's outer edge: white between the blacks, often none where black meets white. */
function lineAt(value: number): Zone['line'] {
  if (value === 4) return 'light';
  if (value === 3) return null;
  return 'dark';
}

function targetZones(zoneWidthMm: number, lowest: number): Zone[] {
  const zones: Zone[] = [];
  for (let value = lowest; value <= 10; value++) {
    zones.push({
      value,
      outerRadiusMm: zoneWidthMm * (11 - value),
      ink: TARGET_INKS[value]!,
      line: lineAt(value),
    });
  }
  return zones;
}

function targetFace(
  id: FaceId,
  name: PlainText,
  family: Family,
  zoneWidthMm: number,
  lowest: number,
  spotCentresMm: Face['spotCentresMm'] = [[0, 0]],
): Face {
  return {
    id,
    name,
    family,
    zones: targetZones(zoneWidthMm, lowest),
    innerRadiusMm: zoneWidthMm / 2,
    innerLine: 'dark',
    spotCentresMm,
  };
}

/** Three spots one above another; of their distances each photo shows its own. */
function inARow(apartMm: number): Face['spotCentresMm'] {
  return [
    [0, apartMm],
    [0, 0],
    [0, -apartMm],
  ];
}

/** Three spots in an equilateral triangle, one of them on top. */
function inATriangle(apartMm: number): Face['spotCentresMm'] {
  const height = (apartMm * Math.sqrt(3)) / 2;
  return [
    [0, (2 * height) / 3],
    [-apartMm / 2, -height / 3],
    [apartMm / 2, -height / 3],
  ];
}

/** Field faces: diameters of 6 to 1 are D/10, D/5, 2D/5, 3D/5, 4D/5, D (from memory). */
function fieldFace(id: FaceId, diameterCm: 20 | 40 | 60 | 80): Face {
  const diameterMm = 10 * diameterCm;
  const zones: Zone[] = [1, 2, 3, 4].map((value) => ({
    value,
    outerRadiusMm: (diameterMm / 10) * (6 - value),
    ink: 'black',
    line: value === 1 ? null : 'light',
  }));
  zones.push({ value: 5, outerRadiusMm: diameterMm / 10, ink: 'yellow', line: null });
  zones.push({ value: 6, outerRadiusMm: diameterMm / 20, ink: 'yellow', line: 'dark' });
  return {
    id,
    name: `${diameterCm} cm field`,
    family: 'field',
    zones,
    innerRadiusMm: null,
    innerLine: null,
    spotCentresMm: [[0, 0]],
  };
}

/**
 * Field faces of the International Field Archery Association: a black spot worth 5, a white ring worth 4
 * and a black ring worth 3, of D/5, 3D/5 and D; a small ring in the spot parts ties.
 */
function blackAndWhiteFace(id: FaceId, diameterCm: 20 | 35 | 50 | 65): Face {
  const diameterMm = 10 * diameterCm;
  return {
    id,
    name: `${diameterCm} cm field, black and white`,
    family: 'black-and-white',
    zones: [
      { value: 3, outerRadiusMm: diameterMm / 2, ink: 'black', line: null },
      { value: 4, outerRadiusMm: (3 * diameterMm) / 10, ink: 'white', line: null },
      { value: 5, outerRadiusMm: diameterMm / 10, ink: 'black', line: null },
    ],
    innerRadiusMm: diameterMm / 20,
    innerLine: 'light',
    spotCentresMm: [[0, 0]],
  };
}

/** Indoor face of the same body: dark blue with white lines around a white spot of 8 cm. */
const BLUE_AND_WHITE: Face = {
  id: 'ifaa40-indoor',
  name: '40 cm indoor, blue and white',
  family: 'blue-and-white',
  zones: [
    { value: 1, outerRadiusMm: 200, ink: 'navy', line: null },
    { value: 2, outerRadiusMm: 160, ink: 'navy', line: 'light' },
    { value: 3, outerRadiusMm: 120, ink: 'navy', line: 'light' },
    { value: 4, outerRadiusMm: 80, ink: 'navy', line: 'light' },
    { value: 5, outerRadiusMm: 40, ink: 'white', line: null },
  ],
  innerRadiusMm: 20,
  innerLine: 'dark',
  spotCentresMm: [[0, 0]],
};

export const FACES: Readonly<Record<FaceId, Face>> = {
  wa122: targetFace('wa122', '122 cm, ten zones', 'ten-ring', 61, 1),
  wa80: targetFace('wa80', '80 cm, ten zones', 'ten-ring', 40, 1),
  'wa80-6': targetFace('wa80-6', '80 cm, six zones', 'six-ring', 40, 5),
  'wa80-5': targetFace('wa80-5', '80 cm, five zones', 'five-ring', 40, 6),
  wa60: targetFace('wa60', '60 cm, ten zones', 'ten-ring', 30, 1),
  wa40: targetFace('wa40', '40 cm, ten zones', 'ten-ring', 20, 1),
  'wa40-5': targetFace('wa40-5', '40 cm, five zones', 'five-ring', 20, 6),
  'wa40-triple-vertical': targetFace(
    'wa40-triple-vertical',
    '40 cm, three spots one above another',
    'triple',
    20,
    6,
    inARow(220),
  ),
  'wa40-triple-triangular': targetFace(
    'wa40-triple-triangular',
    '40 cm, three spots in a triangle',
    'triple-triangular',
    20,
    6,
    inATriangle(220),
  ),
  'wa60-triple-vertical': targetFace(
    'wa60-triple-vertical',
    '60 cm, three spots one above another',
    'triple',
    30,
    6,
    inARow(320),
  ),
  'wa60-triple-triangular': targetFace(
    'wa60-triple-triangular',
    '60 cm, three spots in a triangle',
    'triple-triangular',
    30,
    6,
    inATriangle(320),
  ),
  'field-80': fieldFace('field-80', 80),
  'field-60': fieldFace('field-60', 60),
  'field-40': fieldFace('field-40', 40),
  'field-20': fieldFace('field-20', 20),
  ifaa65: blackAndWhiteFace('ifaa65', 65),
  ifaa50: blackAndWhiteFace('ifaa50', 50),
  ifaa35: blackAndWhiteFace('ifaa35', 35),
  ifaa20: blackAndWhiteFace('ifaa20', 20),
  'ifaa40-indoor': BLUE_AND_WHITE,
};

/** What a face is taken for where neither photo nor person says anything of it. */
export const USUAL_FACE: FaceId = 'wa80';

/** Outermost radius of one spot of the face. */
export function outerRadiusMm(face: Face): number {
  return face.zones[0]!.outerRadiusMm;
}

/** Width of a zone, the measure in which faces of one family are the same whatever their size. */
export function zoneWidthMm({ zones }: Face): number {
  return zones[0]!.outerRadiusMm - zones[1]!.outerRadiusMm;
}

/** Every printed ring of one spot, outermost first, the inner-ten ring last. */
export function ringRadiiMm(face: Face): number[] {
  const radii = face.zones.map((zone) => zone.outerRadiusMm);
  if (face.innerRadiusMm !== null) radii.push(face.innerRadiusMm);
  return radii;
}
