const SOI = 0xd8;
const EOI = 0xd9;
const SOS = 0xda;
const APP0 = 0xe0;

/** Segments that say how the picture is coded: tables, frames, scans, restarts. */
function isOfThePicture(marker: number): boolean {
  return (marker >= 0xc0 && marker <= 0xcf) || (marker >= 0xda && marker <= 0xdd);
}

/**
 * Whether a JPEG holds its picture and nothing else: no segment for an application but JFIF's own
 * without a thumbnail, no comment, and nothing after its end (ITU-T T.81, annex B).
 */
export function isBareJpeg(bytes: Uint8Array): boolean {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) return false;
  for (let at = 2; at + 4 <= bytes.length;) {
    if (bytes[at] !== 0xff) return false;
    const marker = bytes[at + 1]!;
    const length = bytes[at + 2]! * 256 + bytes[at + 3]!;
    if (length < 2 || !(isOfThePicture(marker) || isPlainJfif(bytes, at, length))) return false;
    at += 2 + length;
    if (marker !== SOS) continue;
    at = endOfScan(bytes, at);
    if (bytes[at + 1] === EOI) return at + 2 === bytes.length;
  }
  return false;
}

function isPlainJfif(bytes: Uint8Array, at: number, length: number): boolean {
  const name = String.fromCharCode(...bytes.subarray(at + 4, at + 9));
  return bytes[at + 1] === APP0 && length === 16 && name === 'JFIF\0';
}

/** Where the marker after a scan's coded data begins: zero bytes and restarts belong to the data. */
function endOfScan(bytes: Uint8Array, from: number): number {
  let at = from;
  while (at + 1 < bytes.length) {
    const next = bytes.indexOf(0xff, at);
    if (next < 0) return bytes.length;
    const marker = bytes[next + 1]!;
    if (marker !== 0 && !(marker >= 0xd0 && marker <= 0xd7)) return next;
    at = next + 2;
  }
  return bytes.length;
}
