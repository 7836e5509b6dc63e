const HEADER_BYTES = 8;

/**
 * Whether the boxes of an ISO media file (HEIC) and of its 'meta' box follow one another to their
 * container's end. The EXIF reader walks them without checks: a box of length 0 would hold it for ever.
 */
export function hasSoundBoxes(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const meta = walk(view, 0, bytes.length);
  if (meta === null || meta.metaAt === undefined) return false;
  const metaEnd = meta.metaAt + view.getUint32(meta.metaAt);
  const inner = walk(view, meta.metaAt + HEADER_BYTES + 4, metaEnd);
  if (inner === null) return false;
  return inner.containers.every(([from, to]) => walk(view, from, to) !== null);
}

function walk(view: DataView, from: number, end: number) {
  let metaAt: number | undefined;
  const containers: [number, number][] = [];
  for (let at = from; at < end;) {
    if (at + HEADER_BYTES > end) return null;
    const length = view.getUint32(at);
    const type = String.fromCharCode(...[4, 5, 6, 7].map((i) => view.getUint8(at + i)));
    if (type === 'meta') metaAt ??= at;
    if (type === 'iprp') containers.push([at + HEADER_BYTES, at + length]);
    // Lengths 0 (to the end) and 1 (64 bits) are legal for the pixels' box, which comes last.
    if (length < 2 && type === 'mdat' && metaAt !== undefined) break;
    if (length < HEADER_BYTES || at + length > end) return null;
    at += length;
  }
  return { metaAt, containers };
}
