import { HEIC_BRANDS } from '../../src/evening/photo-files.ts';

/** Formats that are read. */
export type PhotoKind = 'jpeg' | 'png' | 'webp' | 'heic';

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

const HEIC_SEQUENCE_BRANDS = new Set(['hevc', 'hevx', 'hevm', 'hevs', 'msf1']);

/**
 * What a file is, told from its bytes alone: names and declared types are whatever the sender likes.
 * @param bytes the file's content; the first few kilobytes are enough
 */
export function photoKind(bytes: Uint8Array): Kind {
  const ascii = (from: number, to: number) => String.fromCharCode(...bytes.subarray(from, to));
  const readable = (kind: PhotoKind): Kind => ({ readable: true, kind });
  const other = (kind: OtherKind | null): Kind => ({ readable: false, kind });

  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return readable('jpeg');
  if (ascii(0, 8) === '\x89PNG\r\n\x1a\n') {
    return hasAnimationChunk(bytes) ? other('animated PNG') : readable('png');
  }
  if (ascii(0, 4) === 'RIFF' && ascii(8, 12) === 'WEBP') return readable('webp');
  if (ascii(4, 8) === 'ftyp') return isoMediaKind(bytes, ascii);
  if (ascii(0, 4) === 'GIF8') return other('GIF');
  if (ascii(0, 2) === 'BM') return other('BMP');
  if (ascii(0, 4) === 'II*\0' || ascii(0, 4) === 'MM\0*') return other('TIFF');
  if (ascii(0, 4) === 'PK\x03\x04') return other('zip archive');

  const head = new TextDecoder().decode(bytes.subarray(0, 4096)).trimStart().toLowerCase();
  if (head.startsWith('%pdf-')) return other('PDF');
  if (head.includes('<svg') || (head.startsWith('<?xml') && head.includes('svg'))) {
    return other('SVG');
  }
  return other(null);

  function isoMediaKind(all: Uint8Array, text: typeof ascii): Kind {
    const boxLength = new DataView(all.buffer, all.byteOffset, all.byteLength).getUint32(0);
    const brands: string[] = [text(8, 12)];
    const end = Math.min(boxLength, all.length, 256);
    for (let at = 16; at + 4 <= end; at += 4) brands.push(text(at, at + 4));
    const major = brands[0]!;
    if (HEIC_SEQUENCE_BRANDS.has(major)) return other('HEIC sequence');
    if (brands.some((brand) => brand === 'avif' || brand === 'avis')) return other('AVIF');
    if (HEIC_BRANDS.has(major)) return readable('heic');
    return other('video');
  }
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
