import { readFileSync } from 'node:fs';
import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { outerRadiusMm, FACES, type FaceId } from '../../src/face/faces.ts';
import type { FaceFit } from '../../src/fit/camera/face-fit.ts';
import { fitFace } from '../../src/fit/fit-face.ts';
import type { FitOptions } from '../../src/request/fit-options.ts';
import { photoToSheet, sheetToPhoto } from '../../src/fit/camera/project.ts';
import { drawReading } from '../../src/drawing/draw-reading.ts';
import { describeFit } from '../../src/reading/describe-fit.ts';
import { expectGolden } from '../golden/expect-golden.ts';
import { loadOpenCv, type OpenCv } from '../../src/raster/load-open-cv.ts';
import type { Raster } from '../../src/raster/raster.ts';
import { radialErrors, type RadialErrors } from './radial-errors.ts';
import { truthsIn, type Truth } from '../measure/truth.ts';

const FOLDER = 'test-images';
const WIDTH = 900;

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

const truthOf = (name: string): Truth =>
  truthsIn(FOLDER).find(({ photo }) => photo === `${name}.jpg`)!;
/** Width of a photo before it was made smaller. */
const widthOf = (name: string): number =>
  z
    .object({ width: z.number() })
    .parse(JSON.parse(readFileSync(`${FOLDER}/${name}.json`, 'utf8')) as unknown).width;

async function rasterOf(picture: Sharp): Promise<Raster> {
  const { data, info } = await picture.ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data: new Uint8ClampedArray(data) };
}
const fitted = new Map<string, Promise<{ photo: Raster; fit: FaceFit }>>();
/** A small photo fitted as what it shows; several tests look at the same fit. */
function smallFit(name: string): Promise<{ photo: Raster; fit: FaceFit }> {
  const known = fitted.get(name) ?? fitSmall(name);
  fitted.set(name, known);
  return known;
}
async function fitSmall(name: string): Promise<{ photo: Raster; fit: FaceFit }> {
  const photo = await rasterOf(small(name));
  return { photo, fit: fitFace(photo, { face: truthOf(name).face }, cv).fit };
}
const small = (name: string): Sharp => sharp(`${FOLDER}/${name}.jpg`).resize({ width: WIDTH });
/** So that further steps of sharp come after the ones before. */
async function done(picture: Sharp): Promise<Sharp> {
  const { data, info } = await picture.raw().toBuffer({ resolveWithObject: true });
  return sharp(data, { raw: info });
}

/** Errors along the radius at the true ring points of a photo made smaller and cut at the left. */
function ringErrors(name: string, fit: FaceFit, cutPx = 0): RadialErrors {
  const scale = WIDTH / widthOf(name);
  return radialErrors(truthOf(name).spots, fit, ([x, y]) =>
    x * scale < cutPx ? null : [x * scale - cutPx, y * scale],
  );
}

const codeOf = (photo: Raster, options: FitOptions): string => {
  try {
    fitFace(photo, options, cv);
    return 'fitted';
  } catch (error) {
    return (error as { code?: string }).code ?? String(error);
  }
};

describe('a face in a small photo', () => {
  test.each(['fresh-06', 'fresh-08', 'hard-01', 'standing-02'])(
    'is measured to half a millimetre, and about as exactly as said: %s',
    async (name) => {
      const { fit } = await smallFit(name);
      const { rmsMm, inSd } = ringErrors(name, fit);
      expect(rmsMm).toBeLessThan(0.5);
      expect(inSd).toBeLessThan(3);
      expect(inSd).toBeGreaterThan(0.2);
    },
  );

  test('is measured with a third of it cut off, and says so', async () => {
    const cutPx = 150;
    const picture = await done(small('fresh-06'));
    const { height } = await picture.metadata();
    const photo = await rasterOf(
      picture.extract({ left: cutPx, top: 0, width: WIDTH - cutPx, height }),
    );
    const { fit } = fitFace(photo, { face: 'wa80' }, cv);
    expect(ringErrors('fresh-06', fit, cutPx).rmsMm).toBeLessThan(0.6);
    expect(fit.notes.join(' ')).toMatch(/lies outside the photo/);
  });
});

test.each(['used-04', 'hard-01'])(
  'rings lie at the same places of the photo whatever size the face is said to have: %s',
  async (name) => {
    const photo = await rasterOf(small(name));
    const [first, ...others] = (['wa122', 'wa80', 'wa40'] as const).map((face) =>
      describeFit(fitFace(photo, { face }, cv).fit),
    );
    const places = ({ spots }: typeof first & {}) => [
      spots[0]!.centrePx,
      ...spots[0]!.rings.flatMap(({ px }) => px),
    ];
    for (const other of others) {
      const apart = places(other).map(([x, y], i) => {
        const [x0, y0] = places(first!)[i]!;
        return Math.hypot(x - x0, y - y0);
      });
      expect(Math.max(...apart)).toBeLessThan(0.2);
    }
  },
);

test('a face is found where it takes up little of the photo', async () => {
  const picture = await done(small('standing-02'));
  const around = 900;
  const photo = await rasterOf(
    picture.extend({
      left: around,
      right: around,
      top: around,
      bottom: around,
      background: '#7a8068',
    }),
  );
  const { fit } = fitFace(photo, { face: truthOf('standing-02').face }, cv);
  const scale = WIDTH / widthOf('standing-02');
  const { rmsMm } = radialErrors(truthOf('standing-02').spots, fit, ([x, y]) => [
    x * scale + around,
    y * scale + around,
  ]);
  expect(rmsMm).toBeLessThan(0.5);
});

describe('a part cut out of one side of a photo', () => {
  // Its camera looked far past its middle, and EXIF's focal length is not that of the part.
  test.each([
    ['fresh-08', 'right'],
    ['fresh-08', 'bottom'],
    ['hard-02', 'left'],
    ['standing-02', 'right'],
    ['pair-01-after', 'right'],
    ['used-04', 'left'],
  ] as const)(
    'is measured about as exactly as a whole one: %s, missing its %s',
    async (name, side) => {
      const picture = await done(small(name));
      const { width, height } = await picture.metadata();
      // What the part lacks on one side it has too much of on the other: grey here.
      const more = Math.round((side === 'bottom' ? height : width) * 0.6);
      const opposite = { left: 'right', right: 'left', bottom: 'top' } as const;
      const photo = await rasterOf(picture.extend({ [opposite[side]]: more, background: '#778' }));
      const { fit } = fitFace(photo, { face: truthOf(name).face, focalPx: 0.4 * width }, cv);
      const shift = { left: [0, 0], right: [-more, 0], bottom: [0, -more] }[side];
      const scale = WIDTH / widthOf(name);
      const { rmsMm } = radialErrors(truthOf(name).spots, fit, ([x, y]) => [
        x * scale - shift[0]!,
        y * scale - shift[1]!,
      ]);
      expect(rmsMm).toBeLessThan(0.5);
      expect(fit.notes.join(' ')).toMatch(/cut out of a larger photo/);
    },
  );

  test('is not believed of whole photos', async () => {
    for (const name of ['fresh-06', 'hard-01', 'fresh-05']) {
      const { fit } = await smallFit(name);
      expect(fit.notes.join(' ')).not.toMatch(/cut out/);
    }
  });
});

// Each was looked at: the rings lie on the print.
describe('rings drawn on photos of each hard kind look as they did', () => {
  test.each([
    ['hard-01', 'steep'],
    ['hard-02', 'dim'],
    ['standing-05', 'arrows'],
    ['used-04', 'worn'],
    ['fresh-05', 'three-spots'],
  ])('%s', async (name, kind) => {
    const { photo, fit } = await smallFit(name);
    await expectRings(await small(name).toBuffer(), photo, fit, kind);
  });

  test('a part of a face beside another one', async () => {
    const [left, right] = await Promise.all(
      ['fresh-06', 'fresh-08'].map((name) =>
        sharp(`${FOLDER}/${name}.jpg`).resize({ width: 700, height: 900, fit: 'cover' }).toBuffer(),
      ),
    );
    const both = await done(
      sharp(left)
        .extend({ right: 700 })
        .composite([{ input: right!, left: 700, top: 0 }]),
    );
    const picture = await done(both.extract({ left: 150, top: 0, width: 1000, height: 900 }));
    const photo = await rasterOf(picture.clone());
    const { fit } = fitFace(photo, { face: 'wa80', pick: [200, 450] }, cv);
    await expectRings(await picture.png().toBuffer(), photo, fit, 'beside-another');
  });
});

async function expectRings(
  picture: Buffer,
  { width, height }: Raster,
  fit: FaceFit,
  kind: string,
): Promise<void> {
  const rings = drawReading({ fit: describeFit(fit), marks: [] }, { width, height });
  const drawn = await sharp(picture)
    .composite([{ input: Buffer.from(rings) }])
    .toBuffer();
  const png = await sharp(drawn).resize(480).removeAlpha().png({ palette: true }).toBuffer();
  expectGolden(png, `rings-${kind}`);
}

describe('what looks like a face seen from far too far aside', () => {
  let photo: Raster;
  beforeAll(async () => {
    const rings = (['#fff', '#111', '#38d', '#d22', '#fd3'] as const).map(
      (ink, i) =>
        `<ellipse cx="450" cy="450" rx="${(5 - i) * 85}" ry="${(5 - i) * 20}" fill="${ink}"/>`,
    );
    const decoy = `<svg xmlns="http://www.w3.org/2000/svg" width="1500" height="900">${rings.join('')}</svg>`;
    const face = await sharp(`${FOLDER}/fresh-06.jpg`).resize({ width: 420 }).toBuffer();
    photo = await rasterOf(
      await done(
        sharp({ create: { width: 1500, height: 900, channels: 3, background: '#785' } }).composite([
          { input: Buffer.from(decoy) },
          { input: face, left: 1060, top: 0 },
        ]),
      ),
    );
  });

  test('does not hide the face beside it', () => {
    const { fit, candidates } = fitFace(photo, { face: 'wa80' }, cv);
    expect(fit.tiltDeg).toBeLessThan(60);
    const [x] = sheetToPhoto(fit, [0, 0]);
    expect(x).toBeGreaterThan(1060);
    expect(candidates[0]!.centrePx[0]).toBeGreaterThan(1060);
  });

  test('is what was asked for where it is pointed at', () => {
    expect(() => fitFace(photo, { face: 'wa80', pick: [450, 450] }, cv)).toThrow(/from the side/);
  });
});

describe('placed by hand', () => {
  test('a few pixels beside the centre and one ring, the same place is found', async () => {
    const name = 'fresh-06';
    const truth = truthOf(name);
    const scale = WIDTH / widthOf(name);
    const ring = truth.spots[0]!.rings.at(-1)!;
    const tapped = ([x, y]: readonly [number, number], off: number) =>
      [x * scale + off, y * scale - off] as const;
    const seen = ring.px.filter((px) => px !== null);
    const { fit } = fitFace(
      await rasterOf(small(name)),
      {
        face: 'wa80',
        byHand: {
          centrePx: tapped(truth.spots[0]!.centre_px, 6),
          edgesPx: [tapped(seen[3]!, -5), tapped(seen[25]!, 5)],
          radiusMm: outerRadiusMm(FACES.wa80),
        },
      },
      cv,
    );
    expect(ringErrors(name, fit).rmsMm).toBeLessThan(0.5);
  });

  test('taps where no rings are get a sentence, not a fit', async () => {
    const photo = await rasterOf(small('fresh-06'));
    const code = codeOf(photo, {
      face: 'wa80',
      byHand: {
        centrePx: [40, 40],
        edgesPx: [
          [60, 40],
          [40, 60],
        ],
      },
    });
    expect(code).toBe('too-few-rings');
  });
});

describe('several faces', () => {
  test('the one pointed at is measured', async () => {
    const [left, right] = await Promise.all(
      ['fresh-06', 'fresh-02'].map((name) =>
        sharp(`${FOLDER}/${name}.jpg`)
          .resize({ width: 900, height: 1100, fit: 'cover' })
          .toBuffer(),
      ),
    );
    const photo = await rasterOf(
      await done(
        sharp(left)
          .extend({ right: 900 })
          .composite([{ input: right!, left: 900, top: 0 }]),
      ),
    );
    const at = (pick: [number, number]) => {
      const { candidates } = fitFace(photo, { face: 'wa80', pick }, cv);
      expect(candidates.length).toBeGreaterThanOrEqual(2);
      return candidates[0]!.centrePx[0];
    };
    expect(at([450, 550])).toBeLessThan(900);
    expect(at([1350, 550])).toBeGreaterThan(900);
  });

  test('a sheet of three with the middle of one spot covered keeps all in their places', async () => {
    const name = 'fresh-05';
    const scale = WIDTH / widthOf(name);
    for (const covered of [0, 2]) {
      const [cx, cy] = truthOf(name).spots[covered]!.centre_px;
      const half = Math.round(0.075 * WIDTH);
      const photo = await rasterOf(
        (await done(small(name))).composite([
          {
            input: {
              create: { width: 2 * half, height: 2 * half, channels: 3, background: '#777' },
            },
            left: Math.max(0, Math.round(cx * scale) - half),
            top: Math.max(0, Math.round(cy * scale) - half),
          },
        ]),
      );
      const { fit } = fitFace(photo, { face: 'wa40-triple-vertical' }, cv);
      const [x, y] = truthOf(name).spots[1]!.centre_px;
      const middle = photoToSheet(fit, [x * scale, y * scale]);
      expect(Math.hypot(...middle)).toBeLessThan(5);
    }
  });
});

describe('what cannot be measured is refused, with the reason', () => {
  const blank = (background: string): Sharp =>
    sharp({ create: { width: 900, height: 900, channels: 3, background } });

  test('a wall', async () => {
    expect(codeOf(await rasterOf(blank('#b0a090')), { face: 'auto' })).toBe('no-face');
  });

  test('a face of a few pixels', async () => {
    const face = await sharp(`${FOLDER}/fresh-06.jpg`).resize({ width: 60 }).png().toBuffer();
    const photo = await rasterOf(
      await done(blank('#508050').composite([{ input: face, left: 400, top: 400 }])),
    );
    expect(['no-face', 'too-small', 'too-few-rings']).toContain(codeOf(photo, { face: 'wa80' }));
  });

  test('a face of the other kind', async () => {
    const photo = await rasterOf(small('fresh-06'));
    expect(codeOf(photo, { face: 'field-80' })).toBe('wrong-face');
  });

  test('a centre outside the photo', async () => {
    const picture = await done(small('fresh-06'));
    const { height } = await picture.metadata();
    const [cx] = truthOf('fresh-06').spots[0]!.centre_px;
    const left = Math.round((cx * WIDTH) / widthOf('fresh-06')) + 60;
    const photo = await rasterOf(picture.extract({ left, top: 0, width: WIDTH - left, height }));
    const face: FaceId = 'wa80';
    expect(['no-face', 'centre-outside', 'too-few-rings', 'wrong-face', 'too-steep']).toContain(
      codeOf(photo, { face }),
    );
  });

  test('a face smeared beyond its zones', async () => {
    const photo = await rasterOf(await done(small('fresh-06').blur(40)));
    expect(['no-face', 'too-blurred', 'too-few-rings']).toContain(codeOf(photo, { face: 'wa80' }));
  });
});
