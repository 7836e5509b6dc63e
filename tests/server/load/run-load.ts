export interface LoadOptions {
  /** Address of a server on this machine. */
  readonly url: string;
  /** Clients that upload one photo after another. */
  readonly clients: number;
  readonly seconds: number;
  /** Goes on beyond that until so many pages have come. @default 0 */
  readonly leastPages?: number;
  readonly photo: Uint8Array<ArrayBuffer>;
  /** What a person who browses asks for, in turn. */
  readonly pages: readonly string[];
}

export interface LoadReport {
  /** Uploads by what became of them: a reading's code or `read`, `busy` for a full queue. */
  readonly uploads: Record<string, number>;
  /** Uploads that got no answer, or one without a result: must be none. */
  readonly lost: string[];
  /** Uploads that were told their place in the queue, and the last place that was told. */
  readonly queued: { readonly told: number; readonly farthest: number };
  /** How long pages took, ms. */
  readonly pages: {
    readonly n: number;
    readonly medianMs: number;
    readonly p95Ms: number;
    readonly slowestMs: number;
    readonly failed: number;
  };
}

/** How long a person looks at a page. */
const LOOK_MS = 60;
/** How long a client that was told to come again waits; short, so that the queue stays full. */
const AGAIN_MS = 300;

/** Uploads from many clients while one browses. */
export async function runLoad(options: LoadOptions): Promise<LoadReport> {
  const until = performance.now() + options.seconds * 1000;
  const times: number[] = [];
  const goesOn = () => performance.now() < until || times.length < (options.leastPages ?? 0);
  const uploads: Record<string, number> = {};
  const lost: string[] = [];
  const queued = { told: 0, farthest: 0 };
  const upload = async () => {
    while (goesOn()) {
      const outcome = await uploadOnce(options).catch((error: unknown) => {
        lost.push(String(error));
        return null;
      });
      if (outcome === null) continue;
      if (outcome.code === null) lost.push('an answer without a result');
      else uploads[outcome.code] = (uploads[outcome.code] ?? 0) + 1;
      if (outcome.ahead.length > 0) queued.told++;
      queued.farthest = Math.max(queued.farthest, ...outcome.ahead);
      if (outcome.code === 'busy') await pause(AGAIN_MS);
    }
  };
  let failed = 0;
  const browse = async () => {
    for (let turn = 0; goesOn(); turn++) {
      const start = performance.now();
      const response = await fetch(
        new URL(options.pages[turn % options.pages.length]!, options.url),
      );
      await response.arrayBuffer();
      times.push(performance.now() - start);
      if (!response.ok) failed++;
      await pause(LOOK_MS);
    }
  };
  await Promise.all([browse(), ...Array.from({ length: options.clients }, upload)]);
  times.sort((a, b) => a - b);
  const at = (q: number) =>
    Math.round(times[Math.min(times.length - 1, Math.floor(q * times.length))]!);
  return {
    uploads,
    lost,
    queued,
    pages: { n: times.length, medianMs: at(0.5), p95Ms: at(0.95), slowestMs: at(1), failed },
  };
}

/** @returns the places in the queue that were told, and what became of the photo; null: nothing did */
async function uploadOnce({ url, photo }: LoadOptions) {
  const form = new FormData();
  form.append('photo', new Blob([photo]));
  const response = await fetch(new URL('/api/readings', url), {
    method: 'POST',
    body: form,
    headers: { accept: 'application/x-ndjson' },
  });
  const lines = (await response.text())
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Line);
  const last = lines.at(-1)!;
  const code = last.ok === true ? 'read' : (last.error?.code ?? null);
  return { ahead: lines.flatMap(({ ahead }) => (ahead === undefined ? [] : [ahead])), code };
}

interface Line {
  readonly ahead?: number;
  readonly ok?: boolean;
  readonly error?: { readonly code: string };
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
