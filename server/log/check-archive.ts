import type { MOST_RECORDS, Archive } from '../../src/tuning/record/archive.ts';
import type { End } from '../../src/tuning/record/session.ts';
import { broken } from './broken-archive.ts';
import type { OpenArchive } from './open-archive.ts';
import type { PhotoPlace } from './photo-store.ts';

/** What an archive holds, its ends by what they hang on alone. */
export interface CheckedArchive extends Omit<Archive, 'ends' | 'format' | 'exportedAt'> {
  readonly ends: readonly Pick<End, 'id' | 'sessionId' | 'setUpId'>[];
  readonly photos: readonly { readonly sent: PhotoPlace; readonly endId: string }[];
}

const SPOKEN = {
  archers: 'archers',
  bows: 'bows',
  setUps: 'set-ups',
  sessions: 'sessions',
  ends: 'ends',
} as const satisfies Record<keyof typeof MOST_RECORDS, string>;

/**
 * Reads all of an archive's records once. Two of one id would become one, and fewer would be kept than
 * there are.
 * @throws LogError
 */
export async function checkArchive(archive: OpenArchive): Promise<CheckedArchive> {
  const lists = { archers: [], bows: [], setUps: [], sessions: [] } as {
    [Kind in 'archers' | 'bows' | 'setUps' | 'sessions']: Archive[Kind][number][];
  };
  const ends: CheckedArchive['ends'][number][] = [];
  const photos: CheckedArchive['photos'][number][] = [];
  const files = new Set<string>();
  const ids = new Map<string, Set<string>>(Object.keys(SPOKEN).map((kind) => [kind, new Set()]));
  // Many ends name the same few.
  const names = new Map<string, string>();
  const name = (id: string) => names.get(id) ?? (names.set(id, id), id);
  let version = 0;
  for await (const values of archive.values()) {
    for (const one of values) {
      if (one.kind === 'version') {
        version = one.value;
        continue;
      }
      const { kind, value } = one;
      const seen = ids.get(kind)!;
      if (seen.has(value.id)) {
        throw broken(`it holds two ${SPOKEN[kind]} of the id "${value.id.slice(0, 80)}"`);
      }
      seen.add(value.id);
      if (kind !== 'ends') {
        (lists[kind] as (typeof value)[]).push(value);
        continue;
      }
      const { id, sessionId, setUpId, photo } = value;
      ends.push({ id, sessionId: name(sessionId), setUpId: name(setUpId) });
      if (photo === null) continue;
      if (files.has(photo.file)) throw broken(`two of its ends have the same photo, ${photo.file}`);
      files.add(photo.file);
      photos.push({ sent: photo, endId: id });
    }
  }
  for (const file of files) {
    if (!archive.has(file)) throw broken(`it lacks the photo ${file}`);
  }
  return { version, ...lists, ends, photos };
}
