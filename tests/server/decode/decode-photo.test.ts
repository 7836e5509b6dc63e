import { readFileSync } from 'node:fs';
import { crc32 } from 'node:zlib';
import sharp from 'sharp';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { decodePhoto } from '../../../server/decode/decode-photo.ts';
import { MAX_PIXELS } from '../../../server/decode/limits.ts';

/** A quarter of the picture in red: its place after decoding tells the orientation. */
const WIDTH = 120;
const HEIGHT = 80;

function picture() {
  return sharp({
    create: { width: WIDTH, height: HEIGHT, channels: 3, background: { r: 20, g: 40, b: 200 } },
  }).composite([
    {
      input: {
        create: { width: WIDTH / 2, height: HEIGHT / 2, channels: 3, background: 'red' },
      },
      left: 0,
      top: 0,
    },
  ]);
}

function rgbAt(raster: { width: number; data: ArrayLike<number> }, x: number, y: number) {
  const at = (y * raster.width + x) * 4;
  return [raster.data[at], raster.data[at + 1], raster.data[at + 2]] as number[];
}

function isRed(rgb: number[]) {
  return rgb[0]! > 200 && rgb[1]! < 60 && rgb[2]! < 60;
}

describe('decodePhoto', () => {
  it.each(['jpeg', 'png', 'webp'] as const)('reads %s as opaque RGBA', async (format) => {
    const bytes = await picture().toFormat(format).toBuffer();
    const { raster, kind, notes } = await decodePhoto(bytes);
    expect([kind, raster.width, raster.height, raster.data.length]).toEqual([
      format,
      WIDTH,
      HEIGHT,
      WIDTH * HEIGHT * 4,
    ]);
    expect(isRed(rgbAt(raster, 10, 10))).toBe(true);
    expect(raster.data[3]).toBe(255);
    expect(notes).toEqual([]);
  });

  // EXIF orientation 6: the camera was turned so that the stored top is the scene's right.
  it('applies the EXIF orientation', async () => {
    const bytes = await picture().jpeg().withMetadata({ orientation: 6 }).toBuffer();
    const { raster } = await decodePhoto(bytes);
    expect([raster.width, raster.height]).toEqual([HEIGHT, WIDTH]);
    expect(isRed(rgbAt(raster, HEIGHT - 10, 10))).toBe(true);
    expect(isRed(rgbAt(raster, 10, 10))).toBe(false);
  });

  it('turns the 35 mm equivalent into pixels and reads the camera clock', async () => {
    const bytes = await picture()
      .jpeg()
      .withExif({
        IFD2: { FocalLengthIn35mmFilm: '26', DateTimeOriginal: '2025:06:14 18:03:09' },
      })
      .toBuffer();
    const photo = await decodePhoto(bytes);
    // 26 mm on a 43.27 mm diagonal, over the picture's diagonal in pixels.
    expect(photo.focalPx).toBeCloseTo((26 / 43.27) * Math.hypot(WIDTH, HEIGHT), 1);
    expect(photo.takenAt).toBe('2025-06-14T18:03:09');
  });

  // Any two bytes of the EXIF block may be anything: it is never a reason to refuse the photo.
  it('reads a photo whose EXIF is nonsense', async () => {
    const bytes = await picture()
      .jpeg()
      .withExif({ IFD2: { FocalLengthIn35mmFilm: '26' } })
      .toBuffer();
    const from = bytes.indexOf('Exif') + 6;
    const to = 2 + 2 + bytes.readUInt16BE(4);
    for (let at = from; at + 2 <= to; at += 5) {
      const damaged = Buffer.from(bytes);
      damaged.writeUInt16BE(0xffff, at);
      const { raster } = await decodePhoto(damaged);
      expect(raster.width * raster.height).toBe(WIDTH * HEIGHT);
    }
  });

  it('reads CMYK, grey, 16-bit and transparent pictures as 8-bit RGB', async () => {
    const cmyk = await picture().toColourspace('cmyk').jpeg().toBuffer();
    const grey = await picture().greyscale().png().toBuffer();
    const deep = await picture().toColourspace('rgb16').png().toBuffer();
    const clear = await sharp({
      create: { width: 8, height: 8, channels: 4, background: { r: 0, g: 0, b: 0, alpha: 0 } },
    })
      .png()
      .toBuffer();
    for (const bytes of [cmyk, grey, deep]) {
      const { raster } = await decodePhoto(bytes);
      expect(raster.data.length).toBe(WIDTH * HEIGHT * 4);
      expect(rgbAt(raster, 10, 10)[0]).toBeGreaterThan(50);
    }
    expect(rgbAt((await decodePhoto(clear)).raster, 3, 3)).toEqual([255, 255, 255]);
  });

  // sideways.heic was encoded by libheif's own encoder from this picture, with irot 3 (a quarter turn
  // clockwise) and the EXIF orientation 6 that repeats it, as phones write them.
  it('reads HEIC with the rotation applied once', async () => {
    const bytes = readFileSync(new URL('./sideways.heic', import.meta.url));
    const { raster, kind, focalPx } = await decodePhoto(bytes);
    expect([kind, raster.width, raster.height]).toEqual(['heic', HEIGHT, WIDTH]);
    expect(focalPx).toBeCloseTo((26 / 43.27) * Math.hypot(WIDTH, HEIGHT), 1);
    expect(isRed(rgbAt(raster, HEIGHT - 10, 10))).toBe(true);
    expect(isRed(rgbAt(raster, 10, 10))).toBe(false);
  });

  // An endless box is legal for libheif; the EXIF reader would walk it for ever.
  it('leaves the console of everybody else alone while several HEIC photos are decoded', async () => {
    const bytes = readFileSync(new URL('./sideways.heic', import.meta.url));
    const before = { ...console };
    const said = vi.spyOn(console, 'log').mockImplementation(() => undefined);
    const own = console.log;
    const decoding = [bytes, bytes.subarray(0, 700), bytes].map((one) =>
      decodePhoto(one).catch(() => undefined),
    );
    console.log('said meanwhile');
    await Promise.all(decoding);
    expect(console.log).toBe(own);
    expect(said.mock.calls).toEqual([['said meanwhile']]);
    said.mockRestore();
    expect({ ...console }).toEqual(before);
  });

  it('reads HEIC with an endless box, without its EXIF', async () => {
    const bytes = Buffer.from(readFileSync(new URL('./sideways.heic', import.meta.url)));
    bytes.writeUInt32BE(0, bytes.indexOf('meta') - 4);
    const photo = await decodePhoto(bytes);
    expect(photo.raster.width).toBe(HEIGHT);
    expect(photo.focalPx).toBeUndefined();
  });

  describe('refuses with one sentence', () => {
    let jpeg: Buffer;
    let png: Buffer;
    beforeAll(async () => {
      jpeg = await sharp(readFileSync('test-images/fresh-02.jpg')).resize(600).jpeg().toBuffer();
      png = await picture().png().toBuffer();
    });

    async function refusal(bytes: Uint8Array) {
      const error = (await decodePhoto(bytes).then(
        () => null,
        (e: unknown) => e,
      )) as Error & { code: string };
      expect(error?.name).toBe('PhotoError');
      expect(error.message).toMatch(/^[A-Z].*[.]$/);
      expect(error.message).not.toContain('\n');
      return error.code;
    }

    it('nothing, text, and formats that are not photos', async () => {
      const text = (content: string) => Buffer.from(content);
      expect(await refusal(text(''))).toBe('empty-file');
      expect(await refusal(text('just words'))).toBe('not-a-photo');
      expect(await refusal(text('\xff'))).toBe('not-a-photo');
      expect(await refusal(text('%PDF-1.7\n'))).toBe('wrong-format');
      expect(await refusal(text('PK\x03\x04'))).toBe('wrong-format');
      expect(
        await refusal(
          text(
            '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><image href="/etc/passwd"/></svg>',
          ),
        ),
      ).toBe('wrong-format');
      expect(await refusal(await picture().gif().toBuffer())).toBe('animated');
      expect(await refusal(await picture().tiff().toBuffer())).toBe('wrong-format');
      expect(await refusal(await picture().avif().toBuffer())).toBe('wrong-format');
    });

    it('animations', async () => {
      const frames = await sharp([png, await picture().negate().png().toBuffer()], {
        join: { animated: true },
      })
        .webp()
        .toBuffer();
      expect(await refusal(frames)).toBe('animated');
      expect(await refusal(withAnimationChunk(png))).toBe('animated');
    });

    it('a file cut short anywhere, also when an end marker was put behind the cut', async () => {
      for (const part of [0.3, 0.7, 0.99]) {
        const cut = jpeg.subarray(0, Math.floor(jpeg.length * part));
        expect(await refusal(cut)).toBe('truncated');
        expect(await refusal(Buffer.concat([cut, Buffer.from([0xff, 0xd9])]))).toBe('truncated');
      }
      expect(await refusal(jpeg.subarray(0, 100))).toMatch(/truncated|damaged/);
      expect(await refusal(png.subarray(0, png.length - 40))).toMatch(/truncated|damaged/);
    });

    it('damaged HEIC, without a word on the console', async () => {
      const spies = (['log', 'error', 'warn'] as const).map((name) => vi.spyOn(console, name));
      const bytes = readFileSync(new URL('./sideways.heic', import.meta.url));
      expect(await refusal(bytes.subarray(0, 700))).toBe('damaged');
      spies.forEach((spy) => expect(spy).not.toHaveBeenCalled());
      vi.restoreAllMocks();
    });

    it('more pixels than allowed, before decoding them', async () => {
      // The header alone claims 60 megapixels: were pixels decoded first, it would be "damaged".
      const claim = withPngSize(png, 10_000, 6_000);
      expect(10_000 * 6_000).toBeGreaterThan(MAX_PIXELS);
      expect(await refusal(claim)).toBe('too-many-pixels');
    });
  });
});

function chunk(type: string, body: Buffer): Buffer {
  const typed = Buffer.concat([Buffer.from(type, 'latin1'), body]);
  const out = Buffer.alloc(body.length + 12);
  out.writeUInt32BE(body.length, 0);
  typed.copy(out, 4);
  out.writeUInt32BE(crc32(typed), body.length + 8);
  return out;
}

const HEADER_END = 8 + 25;

function withAnimationChunk(png: Buffer): Buffer {
  const control = Buffer.from([0, 0, 0, 2, 0, 0, 0, 0]);
  return Buffer.concat([
    png.subarray(0, HEADER_END),
    chunk('acTL', control),
    png.subarray(HEADER_END),
  ]);
}

function withPngSize(png: Buffer, width: number, height: number): Buffer {
  const header = Buffer.from(png.subarray(16, 29));
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  return Buffer.concat([png.subarray(0, 8), chunk('IHDR', header), png.subarray(HEADER_END)]);
}
