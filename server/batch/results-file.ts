import { createReadStream, createWriteStream } from 'node:fs';
import { open, rename, truncate, type FileHandle } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { pipeline } from 'node:stream/promises';
import { WORKER_DIED } from '../reading/reading-pool.ts';

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

  /**
   * Opens or creates the file. A last line that was torn by an interruption is cut off, and lines of
   * photos whose worker was killed are taken out: those photos are read again.
   */
  static async open(path: string): Promise<ResultsFile> {
    const file = await open(path, 'a+');
    try {
      const { done, wholeBytes, size, unread } = await linesOf(path, file);
      if (wholeBytes < size) await truncate(path, wholeBytes);
      if (unread === 0) return new ResultsFile(file, done);
      await file.close();
      await takeOutUnread(path);
      return new ResultsFile(await open(path, 'a+'), done);
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
  let unread = 0;
  if (size > 0) {
    const lines = createInterface({ input: createReadStream(path), crlfDelay: Infinity });
    for await (const line of lines) {
      read += Buffer.byteLength(line) + 1;
      const result = resultOf(line);
      const photo = result?.photo ?? null;
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
      if (result!.unread) unread++;
      else done.set(photo, (done.get(photo) ?? 0) + 1);
    }
  }
  return { done, wholeBytes, size, unread };
}

/** The file is replaced at once, so that an interruption leaves the one or the other. */
async function takeOutUnread(path: string): Promise<void> {
  const part = `${path}.part`;
  const lines = createInterface({ input: createReadStream(path), crlfDelay: Infinity });
  async function* kept() {
    for await (const line of lines) if (!resultOf(line)?.unread) yield `${line}\n`;
  }
  await pipeline(kept, createWriteStream(part));
  const file = await open(part, 'r+');
  await file.sync().finally(() => file.close());
  await rename(part, path);
}

/** Null where a line is no result of a batch. */
function resultOf(line: string): { photo: string; unread: boolean } | null {
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value !== 'object' || value === null) return null;
    const { photo, ok, error } = value as { photo?: unknown; ok?: unknown; error?: unknown };
    if (typeof photo !== 'string' || typeof ok !== 'boolean') return null;
    const code = (error as { code?: unknown } | undefined)?.code;
    return { photo, unread: !ok && code === WORKER_DIED };
  } catch {
    return null;
  }
}
