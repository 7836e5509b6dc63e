import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, test } from 'vitest';
import type { FaceId } from '../../src/face/faces.ts';
import { sheetToPhoto } from '../../src/fit/camera/project.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { ReadingError } from '../../src/request/reading-error.ts';
import type { FaceChoice } from '../../src/request/request.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

async function rasterOf(picture: Sharp): Promise<Raster> {
  const { data, info } = await picture.ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data: new Uint8ClampedArray(data) };
}
const small = (name: string) => sharp(`test-images/${name}.jpg`).resize({ width: 700 });
const drawn = (shapes: string, width = 600, height = 450) =>
  sharp(
    Buffer.from(
      `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="#8a8a70"/>${shapes}</svg>`,
    ),
  );

/** The face that was read, or what the refusal says. */
function readAs(photo: Raster, face: FaceChoice): string {
  try {
    return fitFace(photo, { face }, cv).fit.face;
  } catch (error) {
    if (!(error instanceof ReadingError)) throw error;
    expect(error.message).toMatch(/\.$/);
    return error.looksLike === null ? error.code : `${error.code}: ${error.looksLike}`;
  }
}

/** Rings of one look straight on, by the radius at which each colour ends, in zones. */
const rings = (ends: readonly (readonly [number, string])[]) =>
  [...ends]
    .reverse()
    .map(([r, ink]) => `<circle cx="300" cy="225" r="${r * 20}" fill="${ink}" stroke="#222"/>`)
    .join('');
const GOLD_TO_BLUE = [
  [0.5, '#fd3'],
  [1, '#fd3'],
  [2, '#fd3'],
  [3, '#d22'],
  [4, '#d22'],
  [5, '#3af'],
] as const;

describe('a face that was said and is not the one in the photo', () => {
  test.each([
    ['fresh-08', 'wa80', 'wrong-face: wa80-6'],
    ['hard-01', 'wa80-6', 'wrong-face: wa80'],
    ['standing-02', 'wa40-5', 'wrong-face: wa40'],
    ['fresh-06', 'field-40', 'wrong-face'],
  ] as const)(
    '%s said to be %s is answered with what it looks like',
    async (name, said, answer) => {
      expect(readAs(await rasterOf(small(name)), said)).toBe(answer);
    },
  );

  test('a six-zone face is not taken for one of three spots, nor for ten zones', async () => {
    const photo = await rasterOf(drawn(rings([...GOLD_TO_BLUE, [6, '#3af'], [7, '#fff']])));
    expect(readAs(photo, 'auto')).toBe('wa80-6');
    expect(readAs(photo, 'wa122')).toBe('wrong-face: wa80-6');
  });

  test('one spot alone is read as itself, and claims no other', async () => {
    const photo = await rasterOf(drawn(rings([...GOLD_TO_BLUE, [6, '#fff']])));
    expect(readAs(photo, 'auto')).toBe('wa80-5');
    expect(readAs(photo, 'wa40')).toBe('wrong-face: wa40-5');
    expect(readAs(photo, 'wa40-triple-vertical')).toBe('wrong-face: wa40-5');
  });

  test('a face whose outermost zone was cut off is read as said, with a word about it', async () => {
    const photo = await rasterOf(drawn(rings([...GOLD_TO_BLUE, [6, '#fff']])));
    const { fit } = fitFace(photo, { face: 'wa80-6' }, cv);
    expect(fit.face).toBe('wa80-6');
    expect(fit.notes.join(' ')).toMatch(/No ring is seen beyond zone 6/);
  });
});

test('ten zones that a lens stretches towards the edge are not taken for five', async () => {
  const photo = await rasterOf(
    drawn(
      rings(
        [...GOLD_TO_BLUE, [6, '#3af'] as const, [8, '#222'] as const, [10, '#eee'] as const].map(
          ([r, ink]) => [0.8 * r * (1 + 0.1 * (r / 10) ** 2), ink] as const,
        ),
      ),
    ).blur(0.8),
  );
  const { fit } = fitFace(photo, { face: 'wa40' }, cv);
  const [x, y] = sheetToPhoto(fit, [0, 0]);
  expect(Math.hypot(x - 300, y - 225)).toBeLessThan(1);
});

test('a face in dappled shade, too coarse to show its lines, is found by the borders of its inks', async () => {
  // The numbers of Park and Miller (1988, Communications of the ACM 31).
  let state = 7;
  const next = () => (state = (state * 16807) % 2147483647) / 2147483647;
  const shade = Array.from(
    { length: 600 },
    () => `<circle cx="${600 * next()}" cy="${450 * next()}" r="${4 + 8 * next()}"/>`,
  ).join('');
  const inks = ['#eee', '#222', '#3af', '#d22', '#fd3'].map(
    (ink, i) => `<circle cx="300" cy="225" r="${30 * (5 - i)}" fill="${ink}"/>`,
  );
  const paper = '<rect x="135" y="60" width="330" height="330" fill="#eee"/>';
  const photo = await rasterOf(
    drawn(`${paper}${inks.join('')}<g opacity="0.2">${shade}</g>`).blur(1),
  );
  const { fit } = fitFace(photo, { face: 'wa80' }, cv);
  const [x, y] = sheetToPhoto(fit, [0, 0]);
  expect(Math.hypot(x - 300, y - 225)).toBeLessThan(1);
});

test('where paper is bent the more the farther out, the middle alone is measured, and it is said', async () => {
  const bent = (r: number, style: string) => {
    const places = Array.from({ length: 180 }, (_, k) => {
      const angle = (Math.PI * k) / 90;
      const radius = 20 * r * (1 + 0.0225 * Math.max(0, r - 2) * Math.sin(3 * angle));
      return `${300 + radius * Math.cos(angle)},${225 + radius * Math.sin(angle)}`;
    });
    return `<polygon points="${places.join(' ')}" ${style}/>`;
  };
  const inks = [[10, '#eee'], [8, '#222'], [6, '#3af'], [4, '#d22'], [2, '#fd3']] as const; // prettier-ignore
  const shapes = inks.map(([r, ink]) => bent(r, `fill="${ink}"`));
  const lines = [3, 1].map((r) => bent(r, 'fill="none" stroke="#222"'));
  const photo = await rasterOf(drawn([...shapes, ...lines].join('')).blur(0.8));
  const { fit } = fitFace(photo, { face: 'wa80' }, cv);
  expect(fit.notes.join(' ')).toMatch(/Only the rings in the middle/);
  const [x, y] = sheetToPhoto(fit, [0, 0]);
  expect(Math.hypot(x - 300, y - 225)).toBeLessThan(2);
});

test('gold and red filling the picture are read as whichever face is said', async () => {
  const photo = await rasterOf(
    sharp(
      await drawn(rings([...GOLD_TO_BLUE, [6, '#3af'], [8, '#222'], [10, '#fff']]))
        .extract({ left: 205, top: 135, width: 190, height: 180 })
        .png()
        .toBuffer(),
    ).resize({ width: 900 }),
  );
  for (const face of ['wa122', 'wa80-6'] as const) {
    const { fit } = fitFace(photo, { face }, cv);
    const [x, y] = sheetToPhoto(fit, [0, 0]);
    expect(Math.hypot(x - 450, y - 426)).toBeLessThan(4);
  }
});

test('a black and white face without its lines is read by its inks, and refused by its name where another was said', async () => {
  const shapes =
    '<circle cx="300" cy="225" r="200" fill="#222"/><circle cx="300" cy="225" r="120" fill="#eee"/><circle cx="300" cy="225" r="40" fill="#222"/>';
  const photo = await rasterOf(drawn(shapes));
  const { fit } = fitFace(photo, { face: 'auto' }, cv);
  expect(fit.face).toBe('ifaa50');
  const [x, y] = sheetToPhoto(fit, [250, 0]);
  expect(Math.hypot(x - 500, y - 225)).toBeLessThan(0.5);
  for (const face of ['wa80', 'field-40'] as const) {
    expect(readAs(photo, face)).toBe('wrong-face');
  }
});

describe('what is round but no face is refused', () => {
  const clock =
    '<circle cx="300" cy="225" r="180" fill="#fff" stroke="#222" stroke-width="12"/>' +
    '<path d="M300 225V90M300 225l80 60" stroke="#111" stroke-width="9"/>';
  const sign =
    '<circle cx="300" cy="225" r="170" fill="#d22"/><circle cx="300" cy="225" r="120" fill="#fff"/>';
  const plate =
    '<circle cx="300" cy="225" r="190" fill="#eee"/><circle cx="300" cy="225" r="130" fill="#ddd" stroke="#36a" stroke-width="6"/>' +
    '<ellipse cx="300" cy="230" rx="60" ry="45" fill="#fd3"/>';
  const yolk =
    '<circle cx="300" cy="225" r="160" fill="#fff"/><circle cx="300" cy="225" r="60" fill="#fc2"/>';
  const wheel =
    '<circle cx="300" cy="225" r="190" fill="#1a1a1a"/><circle cx="300" cy="225" r="125" fill="#bbb"/>' +
    '<circle cx="300" cy="225" r="30" fill="#333"/>';
  const poster = [
    [170, 150, 90, '#d22'],
    [400, 180, 120, '#fd3'],
    [330, 330, 80, '#3af'],
    [140, 340, 60, '#222'],
  ]
    .map(([x, y, r, ink]) => `<circle cx="${x}" cy="${y}" r="${r}" fill="${ink}"/>`)
    .join('');
  const bricks = Array.from(
    { length: 60 },
    (_, i) =>
      `<rect x="${(i % 6) * 105 - (Math.floor(i / 6) % 2) * 50}" y="${Math.floor(i / 6) * 46}" width="100" height="41" fill="#a5452f"/>`,
  ).join('');
  test.each([
    ['a clock', clock],
    ['a wheel', wheel],
    ['a poster with circles', poster],
    ['a wall', bricks],
    ['a road sign', sign],
    ['a plate', plate],
    ['an egg', yolk],
    ['nothing', ''],
  ])('%s', async (_, shapes) => {
    const photo = await rasterOf(drawn(shapes));
    for (const face of ['auto', 'wa80', 'field-40'] satisfies (FaceId | 'auto')[]) {
      expect(readAs(photo, face)).toBe('no-face');
    }
  });

  test('a dartboard, though its rings have the inks of some face', async () => {
    const board = Array.from({ length: 20 }, (_, i) => {
      const at = (turn: number) =>
        `${300 + 170 * Math.cos((turn * Math.PI) / 10)} ${225 + 170 * Math.sin((turn * Math.PI) / 10)}`;
      const ink = i % 2 === 0 ? '#111' : '#eed';
      return `<path d="M300 225L${at(i - 0.5)}A170 170 0 0 1 ${at(i + 0.5)}z" fill="${ink}"/>`;
    }).join('');
    const dartboard =
      `<circle cx="300" cy="225" r="200" fill="#111"/>${board}` +
      '<circle cx="300" cy="225" r="165" fill="none" stroke="#2a4" stroke-width="9"/>' +
      '<circle cx="300" cy="225" r="14" fill="#2a4"/><circle cx="300" cy="225" r="6" fill="#d22"/>';
    const photo = await rasterOf(drawn(dartboard));
    expect(readAs(photo, 'auto')).toBe('no-face');
    for (const face of ['wa80', 'field-40'] as const) {
      expect(readAs(photo, face)).toMatch(/^(no|wrong)-face/);
    }
  });
});
