import type { Log } from './log.ts';

/** What opening the log changed in it, and about photos that do not fit, each a sentence for who runs it. */
export function tidiedWords({
  tidied,
  photoFolder,
  migrated,
}: Pick<Log, 'tidied' | 'photoFolder' | 'migrated'>): string[] {
  if (photoFolder === null) return [...migrated];
  const { putAside, takenBack } = tidied;
  const count = (files: readonly string[]) =>
    `${files.length} ${files.length === 1 ? 'photo' : 'photos'}`;
  return [
    ...migrated,
    ...(putAside.length === 0
      ? []
      : [
          `${count(putAside)} that no end of this log names went to ${photoFolder.asideFolder}; "endwise doctor" lists what lies there.`,
        ]),
    ...(takenBack.length === 0
      ? []
      : [
          `${count(takenBack)} that ends of this log name came back from ${photoFolder.asideFolder}.`,
        ]),
  ];
}
