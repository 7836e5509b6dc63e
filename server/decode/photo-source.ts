import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { z } from 'zod';

/** A photo by its path, or by its content. */
export const photoSourceSchema = z.union([
  z.object({ path: z.string() }),
  z.object({ bytes: z.instanceof(Uint8Array) }),
]);
export type PhotoSource = { readonly path: string } | { readonly bytes: Uint8Array };

/** Read by so many bytes, always into the same ones: new ones each time cost more than the hash. */
const READ_BYTES = 256 * 1024;

/** The SHA-256 of a photo's bytes, hexadecimal; a file is never in memory as a whole. */
export async function sourceSha256(source: PhotoSource): Promise<string> {
  const hash = createHash('sha256');
  if ('bytes' in source) hash.update(source.bytes);
  else {
    const file = await open(source.path);
    try {
      const bytes = Buffer.allocUnsafe(READ_BYTES);
      for (;;) {
        const { bytesRead } = await file.read(bytes, 0, READ_BYTES);
        if (bytesRead === 0) break;
        hash.update(bytes.subarray(0, bytesRead));
      }
    } finally {
      await file.close();
    }
  }
  return hash.digest('hex');
}
