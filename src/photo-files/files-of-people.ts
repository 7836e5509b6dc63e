import { PHOTO_KINDS, pictureFormat } from './picture-formats.ts';

const ENDINGS = new Set(PHOTO_KINDS.flatMap((kind) => pictureFormat(kind).endings));

/** More files than this are no evening of anybody's. */
export const MAX_FILES = 20_000;

/** Photos are compressed already; what inflates to more than this many times its size is a trap. */
export const MAX_RATIO = 100;
/** Below this many bytes, a ratio says nothing. */
const SMALL_BYTES = 1024 * 1024;

/** Named like a photo: it gets a result even where its content is none, so that nothing is lost. */
export function isNamedAsPhoto(path: string): boolean {
  const ending = /\.([a-z]+)$/i.exec(path)?.[1]?.toLowerCase();
  return ending !== undefined && ENDINGS.has(ending);
}

/** Files that systems lay beside a person's own. */
export function isHidden(path: string): boolean {
  return /(^|\/)(\.|__MACOSX\/)/.test(path);
}

/** Whether a file in an archive inflates as no photo does. */
export function isTrap(bytes: { readonly packed: number; readonly unpacked: number }): boolean {
  return bytes.unpacked > SMALL_BYTES && bytes.unpacked > MAX_RATIO * bytes.packed;
}
