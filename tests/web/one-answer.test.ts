import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { judgeRows } from '../../server/batch/judge-rows.ts';
import { readManifest } from '../../server/batch/manifest.ts';
import { listen, type Listening } from '../../server/http/listen.ts';
import { Log } from '../../server/log/log.ts';
import type { Outcome } from '../../server/reading/read-job.ts';
import { readingResultSchema, type Reading } from '../../src/reading/reading.ts';
import { readingOfTruth } from '../drawing/reading-of-truth.ts';
import { appOfTests } from '../server/http/app-of-tests.ts';
import { noFacePool } from '../server/http/no-face-pool.ts';
import { temporaryFolder } from '../server/temporary-folder.ts';
import { PHONE, sharedBrowser, testImage, visit } from './browser.ts';
import { goToStep, openReading, sayHand } from './open-reading.ts';

/** The marks of one photo, whoever looks: what is compared is what is said of them. */
const reading: Reading = readingOfTruth('fresh-02').reading;
vi.mock('../../server/reading/load-photo-reader.ts', () => ({
  loadPhotoReader: () => Promise.resolve(() => Promise.resolve(reading)),
}));

const folder = temporaryFolder();
const ARCHER = 'Ilka Brandt';
const DISTANCE_M = 50;
let log: Log;
let server: Listening;

beforeAll(async () => {
  log = await Log.open(join(folder, 'data'));
  const app = appOfTests({
    webFolder: fileURLToPath(new URL('../../dist/web/', import.meta.url)),
    uploadFolder: folder,
    log,
    pool: { ...noFacePool, read: () => Promise.resolve({ ok: true, elapsedMs: 1, reading }) },
  });
  server = await listen(app, { host: '127.0.0.1', port: 0 });
});
afterAll(async () => {
  await server.close();
  await log.close();
});

/** What a person is told: the verdict, and what to do. */
interface Told {
  readonly summary: string;
  readonly actions: readonly string[];
  readonly reasons: readonly string[];
}

const said = ({ tuning }: Reading): Told => ({
  summary: tuning!.summary,
  actions: tuning!.advice.map(({ action }) => action),
  // The page says what goes for several changes once.
  reasons: [...new Set(tuning!.advice.map(({ reason }) => reason))],
});

async function onPage(page: Page): Promise<Told> {
  const texts = (selector: string) => page.locator(selector).allTextContents();
  const reasons = await texts('.advice-reason');
  return {
    summary: (await texts('.verdict-summary')).join(),
    actions: await texts('.advice-action'),
    reasons: reasons.map((reason) => reason.replace(/^Why: /, '')),
  };
}

it('the same log and end get the same verdict from page, server, command line and batch', async () => {
  const { context, page } = await visit(await sharedBrowser(), server.url, PHONE);
  await page.goto(`${server.url}#/set-ups`);
  await page.getByLabel('Name of the bow').fill('The blue one');
  await page.getByLabel('Archer').fill(ARCHER);
  await sayHand(page);
  await page.getByRole('button', { name: 'Add the bow' }).tap();
  await page.getByRole('button', { name: 'Write down how it is set' }).tap();
  await page.getByLabel('Name of this set-up').fill('First');
  await page.getByRole('button', { name: 'More: Brace height' }).tap();
  await page.getByRole('button', { name: 'Write it down' }).tap();
  await page.locator('.in-use').waitFor();
  for (const [i, photo] of ['fresh-06', 'fresh-04'].entries()) {
    await page.goto(`${server.url}#/`);
    // Other photos than the one to be judged, with its marks: this bow shoots low every time.
    await openReading(page, photo, () => lower(5 * i));
    await goToStep(page, 'Keep');
    const keep = page.locator('.panel-keep');
    await keep.getByLabel('Archer').fill(ARCHER);
    if (i === 0) {
      await keep.getByRole('spinbutton', { name: 'Distance, m' }).fill(String(DISTANCE_M));
    }
    await keep.locator('.button.primary').tap();
    await expect.poll(async () => (await log.ends()).length).toBe(i + 1);
  }
  await page.goto(`${server.url}#/`);
  await openReading(page, 'fresh-02', () => reading);
  await goToStep(page, 'Verdict');
  await expect
    .poll(() => page.locator('.verdict-summary').textContent())
    .toMatch(/With your last 3 ends/);
  const told = await onPage(page);
  await context.close();

  expect(told.summary).toMatch(/^This end alone: 195 mm low, 73 mm right at 50 m\./);
  const request = { archer: ARCHER, distanceM: DISTANCE_M };
  expect(said(await byServer(request))).toEqual(told);
  expect(said(await byCommandLine())).toEqual(told);
  expect(said(await byBatch())).toEqual(told);
}, 120_000);

function lower(mm: number): Reading {
  const marks = reading.marks.map((mark) => {
    const [x, y] = mark.mm;
    return mark.kind === 'bare' ? { ...mark, mm: [x, y - mm] as [number, number] } : mark;
  });
  return { ...reading, marks };
}

async function byServer(request: object): Promise<Reading> {
  const body = new FormData();
  body.append('photo', new Blob(['photo']));
  body.append('request', JSON.stringify(request));
  const response = await fetch(new URL('/api/readings', server.url), { method: 'POST', body });
  return readingOf(await response.json());
}

async function byCommandLine(): Promise<Reading> {
  const args = [
    'read',
    testImage('fresh-02.jpg'),
    '--json',
    '--archer',
    ARCHER,
    '--distance',
    '50',
  ];
  // Another file's tests may have loaded the command with the true reader.
  vi.resetModules();
  const { runEndwise } = await import('../server/cli/run-endwise.ts');
  const { stdout, stderr } = await runEndwise(args, folder);
  expect(stderr).toBe('');
  return readingOf(JSON.parse(stdout));
}

async function byBatch(): Promise<Reading> {
  const path = join(folder, 'manifest.csv');
  writeFileSync(path, `photo,archer,distance_m\nend.jpg,${ARCHER},${DISTANCE_M}\n`);
  const [row] = await readManifest(path);
  const read: Outcome = { ok: true, elapsedMs: 1, reading };
  const judged = await (await judgeRows(log))(read, row!);
  return readingOf({ photo: 'end.jpg', ...judged });
}

function readingOf(line: unknown): Reading {
  const result = readingResultSchema.parse(line);
  if (!result.ok) throw new Error(result.error.message);
  return result.reading;
}
