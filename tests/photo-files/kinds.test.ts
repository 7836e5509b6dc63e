import { deflateSync } from 'fflate';
import { expect, test } from 'vitest';
import { hasSoundBoxes } from '../../src/photo-files/has-sound-boxes.ts';
import { isHidden, isNamedAsPhoto, isTrap } from '../../src/photo-files/files-of-people.ts';
import { photoKind } from '../../src/photo-files/photo-kind.ts';
import { PHOTO_KINDS, PICTURE_FORMATS } from '../../src/photo-files/picture-formats.ts';

const bytes = (text: string): Uint8Array => Uint8Array.from(text, (letter) => letter.charCodeAt(0));

/** A box of ISO/IEC 14496-12: its length in 32 bits, four letters, what it holds. */
function box(type: string, ...held: Uint8Array[]): Uint8Array {
  const length = 8 + held.reduce((sum, part) => sum + part.length, 0);
  const out = new Uint8Array(length);
  new DataView(out.buffer).setUint32(0, length);
  out.set(bytes(type), 4);
  let at = 8;
  for (const part of held) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

function joined(...parts: Uint8Array[]): Uint8Array {
  return Uint8Array.from(parts.flatMap((part) => [...part]));
}

const head = (brand: string, ...more: string[]) =>
  box('ftyp', bytes(brand), new Uint8Array(4), ...more.map(bytes));

/** A PNG chunk without its right check sum, which nobody asks for here. */
const chunk = (type: string, held: Uint8Array) => {
  const length = new Uint8Array(4);
  new DataView(length.buffer).setUint32(0, held.length);
  return joined(length, bytes(type), held, new Uint8Array(4));
};
const PNG = '\x89PNG\r\n\x1a\n';

// Signatures: PNG (ISO/IEC 15948), JPEG (ITU-T T.81: SOI and the next marker), WebP (RFC 9649),
// HEIC brands (ISO/IEC 23008-12), AVIF (AV1 Image File Format), GIF89a, TIFF 6.0, ISO 32000, APPNOTE of zip.
test.each([
  ['jpeg', bytes('\xff\xd8\xff\xe1\x00\x10Exif\0\0')],
  [
    'png',
    joined(bytes(PNG), chunk('IHDR', new Uint8Array(13)), chunk('IDAT', deflateSync(bytes('x')))),
  ],
  ['webp', bytes('RIFF\x24\0\0\0WEBPVP8 ')],
  ['heic', head('heic', 'mif1', 'heic')],
  ['heic', head('mif1', 'heic')],
] as const)('%s is read', (kind, file) => {
  expect(photoKind(file)).toEqual({ readable: true, kind });
});

test.each([
  [
    'animated PNG',
    joined(bytes(PNG), chunk('IHDR', new Uint8Array(13)), chunk('acTL', new Uint8Array(8))),
  ],
  ['AVIF', head('avif', 'mif1')],
  ['AVIF', head('mif1', 'avif')],
  ['HEIC sequence', head('hevc', 'heic')],
  ['video', head('isom', 'mp42')],
  ['GIF', bytes('GIF89a')],
  ['BMP', bytes('BM\x36\0\0\0')],
  ['TIFF', bytes('II*\0')],
  ['TIFF', bytes('MM\0*')],
  ['zip archive', bytes('PK\x03\x04')],
  ['PDF', bytes('%PDF-1.7')],
  ['SVG', bytes('<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>')],
  [null, bytes('shot at thirty metres')],
  [null, new Uint8Array(0)],
] as const)('%s is known and not read', (kind, file) => {
  expect(photoKind(file)).toEqual({ readable: false, kind });
});

test('boxes are sound that follow one another to the end of what holds them', () => {
  const meta = box('meta', new Uint8Array(4), box('iprp', box('ipco')));
  expect(hasSoundBoxes(joined(head('heic'), meta, box('mdat', new Uint8Array(9))))).toBe(true);
  // A length of 0 is legal for the last box alone; within others a walker would stay for ever.
  const endless = box('ipco');
  endless.fill(0, 0, 4);
  const trap = box('meta', new Uint8Array(4), box('iprp', endless));
  expect(hasSoundBoxes(joined(head('heic'), trap))).toBe(false);
  expect(hasSoundBoxes(joined(head('heic'), meta).subarray(0, -3))).toBe(false);
  expect(hasSoundBoxes(head('heic'))).toBe(false);
});

test("photos are known by their names' endings, and what systems lay beside them is not theirs", () => {
  for (const kind of PHOTO_KINDS) {
    for (const ending of PICTURE_FORMATS[kind].endings) {
      expect(isNamedAsPhoto(`Juna/end 3.${ending.toUpperCase()}`)).toBe(true);
    }
  }
  expect(['notes.txt', 'jpg', 'end.jpg.zip'].map(isNamedAsPhoto)).toEqual([false, false, false]);
  expect(['__MACOSX/._a.jpg', 'a/.thumb.jpg', '.DS_Store'].every(isHidden)).toBe(true);
  expect(isHidden('a.b/end-1.jpg')).toBe(false);
});

test('what inflates a thousandfold is a trap, a small file never', () => {
  const zeros = new Uint8Array(3_000_000);
  const packed = deflateSync(zeros).length;
  expect(isTrap({ packed, unpacked: zeros.length })).toBe(true);
  expect(isTrap({ packed: 10, unpacked: 100_000 })).toBe(false);
  expect(isTrap({ packed: 2_900_000, unpacked: 3_000_000 })).toBe(false);
});
