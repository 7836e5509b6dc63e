import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { z } from 'zod';

/** A photo by its path, or by its content. */
export const photoSourceSchema = z.union([
  z.object({ path: z.string() }),
  z.object({ bytes: z.instanceof(Uint8Array) }),
]);
export type PhotoSource = { readonly path: string } | { readonly bytes: Uint8Array };

/** The SHA-256 of a photo's bytes, hexadecimal; a file is never in memory as a whole. */
export async function sourceSha256(source: PhotoSource): Promise<string> {
  const hash = createHash('sha256');
  if ('bytes' in source) hash.update(source.bytes);
  else for await (const chunk of createReadStream(source.path)) hash.update(chunk as Buffer);
  return hash.digest('hex');
}
