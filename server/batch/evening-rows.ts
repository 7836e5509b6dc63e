import { posix } from 'node:path';
import { orderEvening } from '../../src/evening/order-evening.ts';
import type { ReadingRequest } from '../../src/request/request.ts';
import type { GatheredPhoto } from './gather-folder.ts';
import type { ManifestRow } from './manifest.ts';

/**
 * What is to be read of gathered photos, in order. A manifest among them says what it says; the photos
 * that it does not name are placed by their folders, names and times.
 * @param about what holds for every photo that no manifest tells of
 * @param options `closed`: a manifest that came in an archive may name nothing but what came with it
 */
export function eveningRows(
  photos: readonly GatheredPhoto[],
  manifest: readonly ManifestRow[],
  about: ReadingRequest,
  { closed = false } = {},
): ManifestRow[] {
  const pathOf = new Map(photos.map(({ name, path }) => [name, path]));
  const find = (name: string) => pathOf.get(posix.normalize(name.replaceAll('\\', '/')));
  const said = manifest.map((written): ManifestRow => {
    const row = { ...written, photoPath: find(written.photo) ?? written.photoPath };
    const named = [row.photo, row.before, row.also].filter((name) => name !== null);
    const outside = closed ? named.find((name) => find(name) === undefined) : undefined;
    if (outside !== undefined && row.problem === null) {
      const problem = `There is no photo "${outside.slice(0, 80)}" in the archive.`;
      return { ...row, request: null, problem };
    }
    return {
      ...row,
      beforePath: row.before === null ? null : (find(row.before) ?? row.beforePath),
      alsoPath: row.also === null ? null : (find(row.also) ?? row.alsoPath),
    };
  });
  const named = new Set(
    said.flatMap((row) =>
      [row.photoPath, row.beforePath, row.alsoPath].filter((path) => path !== null),
    ),
  );
  const left = photos.filter(({ path }) => !named.has(path));
  const ordered = orderEvening(
    left.map(({ name, takenAt }) => ({
      path: name,
      ...(takenAt === undefined ? {} : { takenAt }),
    })),
  );
  return [
    ...said,
    ...ordered.map(({ path, archer, bow, session, end, before, also, earlier }): ManifestRow => ({
      photo: path,
      photoPath: pathOf.get(path)!,
      before,
      beforePath: before === null ? null : pathOf.get(before)!,
      also,
      alsoPath: also === null ? null : pathOf.get(also)!,
      earlier,
      earlierPath: earlier === null ? null : pathOf.get(earlier)!,
      request: about,
      problem: null,
      others: { archer, bow, session: `${session}`, end: `${end}` },
    })),
  ];
}
