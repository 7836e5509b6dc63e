import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { FACES, type FaceId } from '../../src/face/faces.ts';
import { usualSizesSchema, type UsualSizes } from '../../src/request/request.ts';
import { dataFolder } from './data-folder.ts';
import { writeFileDurably } from '../files/write-file-durably.ts';

const sizesPath = (folder: string) => join(folder, 'sizes.json');

/** The printed sizes that were last given; none where nothing was remembered or the file is unreadable. */
export async function rememberedSizes(folder = dataFolder()): Promise<UsualSizes> {
  try {
    const parsed = usualSizesSchema.safeParse(
      JSON.parse(await readFile(sizesPath(folder), 'utf8')),
    );
    return parsed.success ? parsed.data : {};
  } catch {
    return {};
  }
}

/** Remembers a size given by a person, for photos whose face is left to 'auto'. */
export async function rememberSize(face: FaceId, folder = dataFolder()): Promise<void> {
  const sizes = await rememberedSizes(folder);
  const { family } = FACES[face];
  if (sizes[family] === face) return;
  await writeFileDurably(sizesPath(folder), JSON.stringify({ ...sizes, [family]: face }) + '\n');
}
