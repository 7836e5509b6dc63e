import { open, rm, type FileHandle } from 'node:fs/promises';
import type { LogRecord, RecordKind, RecordOf } from './read-records.ts';

export const KINDS = [
  'archers',
  'bows',
  'setUps',
  'sessions',
  'ends',
] as const satisfies readonly RecordKind[];

/** Characters that are held before they are written. */
const HELD = 256 * 1024;

/**
 * Records on the disk between being read from a log and being written into an archive: reading is over soon,
 * so that others may write again, and none is held.
 */
export class RecordSpool {
  readonly #path: string;
  readonly #files = new Map<string, SpoolFile>();

  /** @param path of files that are made beside one another, this with endings */
  constructor(path: string) {
    this.#path = path;
  }

  /** Empties it. */
  async begin(): Promise<void> {
    await this.remove();
    for (const name of KINDS.flatMap((kind) => [nameOf(kind, true), nameOf(kind, false)])) {
      this.#files.set(name, await SpoolFile.create(`${this.#path}.${name}.part`));
    }
  }

  async add({ kind, record, isPlaced }: LogRecord): Promise<void> {
    await this.#file(kind, isPlaced).add(record);
  }

  async *records<Kind extends RecordKind>(
    kind: Kind,
    isPlaced = true,
  ): AsyncGenerator<RecordOf<Kind>> {
    for await (const line of this.#file(kind, isPlaced).lines())
      yield JSON.parse(line) as RecordOf<Kind>;
  }

  async remove(): Promise<void> {
    for (const file of this.#files.values()) await file.remove();
    this.#files.clear();
  }

  #file(kind: RecordKind, isPlaced: boolean): SpoolFile {
    return this.#files.get(nameOf(kind, isPlaced))!;
  }
}

function nameOf(kind: RecordKind, isPlaced: boolean): string {
  return isPlaced ? kind : `unplaced-${kind}`;
}

/** A value of JSON on each line. */
class SpoolFile {
  readonly #path: string;
  readonly #file: FileHandle;
  #held = '';

  private constructor(path: string, file: FileHandle) {
    this.#path = path;
    this.#file = file;
  }

  static async create(path: string): Promise<SpoolFile> {
    return new SpoolFile(path, await open(path, 'w+', 0o600));
  }

  async add(record: unknown): Promise<void> {
    // Within texts JSON leaves two characters as they are that end a line for the reader below.
    const line = JSON.stringify(record).replace(/[\u2028\u2029]/g, escaped);
    this.#held += `${line}\n`;
    if (this.#held.length >= HELD) await this.#write();
  }

  async *lines(): AsyncGenerator<string> {
    await this.#write();
    const file = await open(this.#path, 'r');
    yield* file.readLines({ encoding: 'utf8' });
  }

  async remove(): Promise<void> {
    await this.#file.close();
    await rm(this.#path, { force: true });
  }

  async #write(): Promise<void> {
    const text = this.#held;
    this.#held = '';
    if (text !== '') await this.#file.appendFile(text);
  }
}

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16)}`;
}
