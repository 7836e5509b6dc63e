import type { Log } from './log.ts';

/** What was done about photos that do not fit the log, each a sentence for who runs it. */
export function tidiedWords({ tidied, photos }: Pick<Log, 'tidied' | 'photos'>): string[] {
  const { putAside, takenBack } = tidied;
  const count = (files: readonly string[]) =>
    `${files.length} ${files.length === 1 ? 'photo' : 'photos'}`;
  return [
    ...(putAside.length === 0
      ? []
      : [
          `${count(putAside)} that no end of this log names went to ${photos.asideFolder}; "endwise doctor" lists what lies there.`,
        ]),
    ...(takenBack.length === 0
      ? []
      : [`${count(takenBack)} that ends of this log name came back from ${photos.asideFolder}.`]),
  ];
}
