import { z } from 'zod';

/** A photo by its path, or by its content. */
export const photoSourceSchema = z.union([
  z.object({ path: z.string() }),
  z.object({ bytes: z.instanceof(Uint8Array) }),
]);
export type PhotoSource = { readonly path: string } | { readonly bytes: Uint8Array };
