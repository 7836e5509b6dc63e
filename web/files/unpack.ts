import { unzip, type UnzipFileInfo } from 'fflate';

/** What is wanted of a zip archive, by name. @throws where it is none, or a damaged one */
export function unpack(
  archive: Uint8Array,
  wanted: (entry: UnzipFileInfo) => boolean,
): Promise<Record<string, Uint8Array>> {
  return new Promise((resolve, reject) => {
    unzip(archive, { filter: wanted }, (error, entries) => {
      if (error) reject(error);
      else resolve(entries);
    });
  });
}
