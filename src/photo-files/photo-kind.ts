import {
  fileHead,
  PHOTO_KINDS,
  PICTURE_FORMATS,
  type FileHead,
  type PhotoKind,
} from './picture-formats.ts';

/** Formats that are recognised in order to say what to do instead. */
export type OtherKind =
  | 'animated PNG'
  | 'AVIF'
  | 'BMP'
  | 'GIF'
  | 'PDF'
  | 'SVG'
  | 'TIFF'
  | 'HEIC sequence'
  | 'video'
  | 'zip archive';

export type Kind =
  | { readonly readable: true; readonly kind: PhotoKind }
  | { readonly readable: false; readonly kind: OtherKind | null };

/**
 * What a file is, told from its bytes alone: names and declared types are whatever the sender likes.
 * (A library for kinds of files would know hundreds more, none of them readable, and not which of
 * these are animated.)
 * @param bytes the file's content; the first few kilobytes are enough
 */
export function photoKind(bytes: Uint8Array): Kind {
  const head = fileHead(bytes);
  const other = otherKind(head);
  if (other !== null) return { readable: false, kind: other };
  const kind = PHOTO_KINDS.find((one) => PICTURE_FORMATS[one].begins(head));
  return kind === undefined ? { readable: false, kind: null } : { readable: true, kind };
}

/** With files in it, empty, or one part of several. */
const ZIP_BEGINNINGS = new Set(['PK\x03\x04', 'PK\x05\x06', 'PK\x07\x08']);

/** Asked first: some of these begin like a format that is read. */
function otherKind(head: FileHead): OtherKind | null {
  const { bytes, ascii } = head;
  if (PICTURE_FORMATS.png.begins(head)) return hasAnimationChunk(bytes) ? 'animated PNG' : null;
  if (ascii(4, 8) === 'ftyp') return otherMedia(head);
  if (ascii(0, 4) === 'GIF8') return 'GIF';
  if (ascii(0, 2) === 'BM') return 'BMP';
  if (ascii(0, 4) === 'II*\0' || ascii(0, 4) === 'MM\0*') return 'TIFF';
  if (ZIP_BEGINNINGS.has(ascii(0, 4))) return 'zip archive';
  if (PHOTO_KINDS.some((kind) => PICTURE_FORMATS[kind].begins(head))) return null;
  const text = new TextDecoder().decode(bytes.subarray(0, 4096)).trimStart().toLowerCase();
  if (text.startsWith('%pdf-')) return 'PDF';
  if (text.includes('<svg') || (text.startsWith('<?xml') && text.includes('svg'))) return 'SVG';
  return null;
}

const HEIC_SEQUENCE_BRANDS = new Set(['hevc', 'hevx', 'hevm', 'hevs', 'msf1']);

function otherMedia(head: FileHead): OtherKind | null {
  const { bytes, ascii } = head;
  const boxLength = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(0);
  const brands: string[] = [ascii(8, 12)];
  const end = Math.min(boxLength, bytes.length, 256);
  for (let at = 16; at + 4 <= end; at += 4) brands.push(ascii(at, at + 4));
  if (HEIC_SEQUENCE_BRANDS.has(brands[0]!)) return 'HEIC sequence';
  if (brands.some((brand) => brand === 'avif' || brand === 'avis')) return 'AVIF';
  return PICTURE_FORMATS.heic.begins(head) ? null : 'video';
}

/** An animated PNG announces itself by an acTL chunk before its first pixels. */
function hasAnimationChunk(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 8; at + 8 <= bytes.length;) {
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (type === 'acTL') return true;
    if (type === 'IDAT' || type === 'IEND') return false;
    at += 12 + view.getUint32(at);
  }
  return false;
}
