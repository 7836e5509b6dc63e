import { createReadStream } from 'node:fs';
import { open, truncate, type FileHandle } from 'node:fs/promises';
import { createInterface } from 'node:readline';

/**
 * RESULTS.jsonl, one line per photo. Each line is on the disk before `append` returns, so that an
 * interrupted batch continues where it stopped.
 */
export class ResultsFile {
  /** How often each photo has a line already. */
  readonly done: ReadonlyMap<string, number>;
  readonly #file: FileHandle;
  #last: Promise<unknown> = Promise.resolve();

  private constructor(file: FileHandle, done: ReadonlyMap<string, number>) {
    this.#file = file;
    this.done = done;
  }

  /** Opens or creates the file. A last line that was torn by an interruption is cut off. */
  static async open(path: string): Promise<ResultsFile> {
    const file = await open(path, 'a+');
    try {
      const { done, wholeBytes, size } = await linesOf(path, file);
      if (wholeBytes < size) await truncate(path, wholeBytes);
      return new ResultsFile(file, done);
    } catch (error) {
      await file.close();
      throw error;
    }
  }

  append(line: object): Promise<void> {
    const text = JSON.stringify(line) + '\n';
    const mine = this.#last.then(async () => {
      await this.#file.writeFile(text);
      await this.#file.datasync();
    });
    this.#last = mine.catch(() => undefined);
    return mine;
  }

  async close(): Promise<void> {
    await this.#last;
    await this.#file.close();
  }
}

/** Thrown when the named file holds something else: it is not ours to cut or extend. */
export class NotResultsError extends Error {
  override readonly name = 'NotResultsError';
}

async function linesOf(path: string, file: FileHandle) {
  const { size } = await file.stat();
  const done = new Map<string, number>();
  let wholeBytes = 0;
  let read = 0;
  let torn = false;
  if (size > 0) {
    const lines = createInterface({ input: createReadStream(path), crlfDelay: Infinity });
    for await (const line of lines) {
      read += Buffer.byteLength(line) + 1;
      const photo = photoOf(line);
      if (torn || (photo === null && read < size)) {
        lines.close();
        throw new NotResultsError(
          `${path} is not a results file of endwise: name another file with --out.`,
        );
      }
      if (photo === null || read > size) {
        torn = true;
        continue;
      }
      wholeBytes = read;
      done.set(photo, (done.get(photo) ?? 0) + 1);
    }
  }
  return { done, wholeBytes, size };
}

function photoOf(line: string): string | null {
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value !== 'object' || value === null) return null;
    const { photo, ok } = value as { photo?: unknown; ok?: unknown };
    return typeof photo === 'string' && typeof ok === 'boolean' ? photo : null;
  } catch {
    return null;
  }
}
