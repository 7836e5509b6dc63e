/**
 * The three frames a position can live in. They are branded so that the compiler refuses to mix
 * them: a transform of a FaceFit is the only way from one to another.
 */

declare const frame: unique symbol;

/** Pixels of the photo as a person sees it; x right, y down; centre of the first pixel (0.5, 0.5). */
export type PhotoPx = readonly [x: number, y: number] & { readonly [frame]?: 'photo' };

/** Millimetres on the unrolled sheet, origin in its middle; x to the archer's right, y up. */
export type SheetMm = readonly [x: number, y: number] & { readonly [frame]?: 'sheet' };

/** Millimetres from the centre of a mark's own spot; the same as SheetMm on one-spot faces. */
export type SpotMm = readonly [x: number, y: number] & { readonly [frame]?: 'spot' };
