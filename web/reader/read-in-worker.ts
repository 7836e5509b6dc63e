import { ENGLISH } from '../../src/words/words.ts';
import type { Reading } from '../../src/reading/reading.ts';
import type { ReadingRequest, UsualSizes } from '../../src/request/request.ts';
import { fromReaderSchema, type ByHand, type FromReader, type ToReader } from './messages.ts';
import { ReadFailure } from './read-failure.ts';

export interface ReadJob {
  readonly photo: Blob;
  readonly before: Blob | null;
  /** The same end from somewhere else. */
  readonly also: Blob | null;
  readonly focalPx: number | null;
  readonly request: ReadingRequest;
  readonly byHand: ByHand | null;
  /** Where in the photo the wanted face is, among several. */
  readonly pick: [number, number] | null;
  readonly sizes: UsualSizes;
  readonly signal: AbortSignal;
  readonly onStage: (stage: string) => void;
}

export interface ReadDone {
  readonly reading: Reading;
  readonly elapsedMs: number;
}

type Answer = Extract<FromReader, { type: 'ready' | 'converted' | 'done' }>;

/** An idle worker holds a few hundred megabytes of pixels and code: it goes after this long. */
const IDLE_MS = 90_000;

let worker: Worker | null = null;
let idle: ReturnType<typeof setTimeout> | undefined;
let queue: Promise<unknown> = Promise.resolve();
/** What is told where the worker breaks down: whoever waits for an answer of it. */
const waiting = new Set<() => void>();

function hire(): Worker {
  clearTimeout(idle);
  if (worker === null) {
    worker = new Worker(new URL('./reader.worker.ts', import.meta.url), { type: 'module' });
    worker.onerror = dismiss;
  }
  return worker;
}

/** Ends the worker, and with it whatever it was at. */
function dismiss(): void {
  worker?.terminate();
  worker = null;
  for (const tell of [...waiting]) tell();
}

/**
 * Reads a photo in the vision worker, one at a time. Aborting ends the worker, and with it whatever
 * it was at; the next job starts a fresh one.
 * @throws ReadFailure
 */
export async function readInWorker(job: ReadJob): Promise<ReadDone> {
  const { photo, before, also, focalPx, request, byHand, pick, sizes } = job;
  const answer = await enqueue(
    { type: 'read', photo, before, also, focalPx, request, byHand, pick, sizes },
    job,
  );
  if (answer.type !== 'done') throw new Error(`The reader answered '${answer.type}'.`);
  return answer;
}

/**
 * Loads the vision module ahead of the first photo; returns the addresses of its parts, none where they
 * could not be had. A photo that is chosen meanwhile does not wait for it: it is opened as they load.
 * @param options.rehearse a photo comes soon, for which code is compiled too
 */
export async function warmReader({ rehearse }: { rehearse: boolean }): Promise<readonly string[]> {
  const answer = await converse({ type: 'warm', rehearse }, ['ready'], {}).catch(() => null);
  return answer?.type === 'ready' ? answer.loaded : [];
}

/** Longer than any phone takes for a photo; a file on which the decoder hangs is given up. */
const CONVERT_MS = 60_000;

/**
 * Turns a HEIC photo into a JPEG, which every browser shows. Its focal length is handed out beside
 * it: the new file has no EXIF.
 * @throws ReadFailure
 */
export async function convertInWorker(
  photo: Blob,
): Promise<{ readonly photo: Blob; readonly focalPx: number | null }> {
  const answer = await enqueue(
    { type: 'convert', photo },
    { signal: AbortSignal.timeout(CONVERT_MS) },
  );
  if (answer.type !== 'converted') throw new Error(`The reader answered '${answer.type}'.`);
  return answer;
}

/** One photo after the other: then every answer but that to 'warm' is to the one that is looked at. */
function enqueue(message: ToReader, options: ConverseOptions): Promise<Answer> {
  const run = queue.then(() =>
    converse(message, ['stage', 'converted', 'done', 'failed'], options),
  );
  queue = run.catch(() => {});
  return run;
}

type ConverseOptions = Partial<Pick<ReadJob, 'signal' | 'onStage'>>;

/** @param about the messages that are about this one */
function converse(
  message: ToReader,
  about: readonly FromReader['type'][],
  { signal, onStage }: ConverseOptions,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const cancelled = () => new ReadFailure('cancelled', ENGLISH.say('Reading was cancelled.'));
    if (signal?.aborted) {
      reject(cancelled());
      return;
    }
    const hired = hire();
    const finish = (settle: () => void) => {
      signal?.removeEventListener('abort', abort);
      hired.removeEventListener('message', hear);
      waiting.delete(lost);
      clearTimeout(idle);
      if (waiting.size === 0) idle = setTimeout(dismiss, IDLE_MS);
      settle();
    };
    const abort = () => {
      finish(() => reject(cancelled()));
      dismiss();
    };
    const lost = () =>
      finish(() =>
        reject(
          new ReadFailure(
            'vision-missing',
            ENGLISH.say(
              'The part of the page that reads photos could not be loaded: connect once to the network and try again.',
            ),
          ),
        ),
      );
    const hear = ({ data }: MessageEvent<unknown>) => {
      const said = fromReaderSchema.safeParse(data);
      if (!said.success) {
        finish(() =>
          reject(new ReadFailure('bad-reading', ENGLISH.say('The reading came out malformed.'))),
        );
        return;
      }
      const answer = said.data;
      if (!about.includes(answer.type)) return;
      if (answer.type === 'stage') onStage?.(answer.stage);
      else if (answer.type === 'failed') {
        finish(() => reject(new ReadFailure(answer.code, answer.message, answer.looksLike)));
      } else {
        finish(() => resolve(answer));
      }
    };
    signal?.addEventListener('abort', abort);
    hired.addEventListener('message', hear);
    waiting.add(lost);
    hired.postMessage(message);
  });
}
