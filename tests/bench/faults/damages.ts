import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { appOfTests } from '../../server/http/app-of-tests.ts';
import { listen } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import { LogError } from '../../../server/log/log-error.ts';
import { fillSample, sampleEnd } from '../../server/log/sample-log.ts';

export interface DamagesReport {
  /** Where the log was refused at its start, in a sentence. */
  refusedAtStart: number;
  /** Where it opened and some answers were refused, each in a sentence. */
  refusedInPart: number;
  /** Where nothing that is answered was hit. */
  harmless: number;
  readonly findings: string[];
}

const ENDS = 40;
const WITH_PHOTO = 5;

/** Damages a log in random places: what it still answers must be what was kept. */
export async function damageMany(count: number, random: () => number): Promise<DamagesReport> {
  const root = mkdtempSync(join(tmpdir(), 'endwise-damages-'));
  const report: DamagesReport = {
    refusedAtStart: 0,
    refusedInPart: 0,
    harmless: 0,
    findings: [],
  };
  try {
    const whole = join(root, 'whole');
    await makeLog(whole);
    const right = await answersOf(whole);
    for (let number = 0; number < count; number++) {
      const folder = join(root, 'damaged');
      cpSync(whole, folder, { recursive: true });
      const how = damage(folder, random);
      await lookAt(folder, right, `${number} (${how})`, report);
      rmSync(folder, { recursive: true });
    }
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
  return report;
}

async function makeLog(folder: string): Promise<void> {
  const log = await Log.open(folder);
  await fillSample(log);
  for (let number = 0; number < ENDS; number++) {
    const background = { r: number, g: 90, b: 200 };
    const photo = await sharp({ create: { width: 60, height: 40, channels: 3, background } })
      .jpeg()
      .toBuffer();
    const archer = number % 2 === 0 ? 'ilka' : 'tomas';
    await log.putEnd(sampleEnd(archer, number), number < WITH_PHOTO ? photo : undefined);
  }
  await log.close();
}

type Answers = ReadonlyMap<string, { readonly status: number; readonly body: string }>;

async function answersOf(folder: string): Promise<Answers> {
  const log = await Log.open(folder);
  const app = appOfTests({
    uploadFolder: folder,
    log,
  });
  const server = await listen(app, { host: '127.0.0.1', port: 0 });
  const paths = [
    ...['archers', 'bows', 'set-ups', 'sessions', 'ends', 'ends.csv', 'arrows.csv'],
    ...['bows/ilka-bow/reading', 'bows/tomas-bow/reading'],
    ...Array.from({ length: WITH_PHOTO }, (_, i) => `ends/${i % 2 ? 'tomas' : 'ilka'}-end-${i}/photo`), // prettier-ignore
  ];
  const answers = new Map<string, { status: number; body: string }>();
  for (const path of paths) {
    const answer = await fetch(new URL(`/api/log/${path}`, server.url));
    const body = Buffer.from(await answer.arrayBuffer()).toString('latin1');
    answers.set(path, { status: answer.status, body });
  }
  await server.close();
  await log.close();
  return answers;
}

async function lookAt(
  folder: string,
  right: Answers,
  name: string,
  report: DamagesReport,
): Promise<void> {
  const before = filesIn(folder);
  try {
    const answers = await answersOf(folder);
    let wrong = 0;
    for (const [path, { status, body }] of answers) {
      if (status === 200 && body === right.get(path)!.body) continue;
      wrong++;
      if (status === 200) report.findings.push(`${name}: ${path} answers wrongly`);
      else if (!isSentence(body)) report.findings.push(`${name}: ${path} ${status} ${body}`);
    }
    if (wrong === 0) report.harmless++;
    else report.refusedInPart++;
  } catch (error) {
    if (error instanceof LogError && error.message.endsWith('.')) report.refusedAtStart++;
    else report.findings.push(`${name}: ${String(error)}`);
  }
  const gone = before.filter((file) => !filesIn(folder).includes(file));
  if (gone.length > 0) report.findings.push(`${name}: ${gone.join(', ')} gone`);
}

/** By name alone: a photo may have gone to the folder beside. */
function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => name);
}

function isSentence(body: string): boolean {
  try {
    const { error } = JSON.parse(body) as { error: { code: string; message: string } };
    return error.code !== 'internal' && /^[A-Z].*\.$/.test(error.message);
  } catch {
    return false;
  }
}

/** One place in the log's file or, one time in five, in a photo. */
function damage(folder: string, random: () => number): string {
  const photos = readdirSync(join(folder, 'photos')).map((name) => join('photos', name));
  const file = random() < 0.2 ? photos[Math.floor(random() * photos.length)]! : 'log.sqlite';
  const path = join(folder, file);
  const bytes = readFileSync(path);
  const at = Math.floor(random() * bytes.length);
  const length = 1 + Math.floor(random() ** 3 * 2000);
  const kinds = ['a bit', 'zeros', 'noise', 'a cut', 'a shift'] as const;
  const kind = kinds[Math.floor(random() * kinds.length)]!;
  let out = Buffer.from(bytes);
  if (kind === 'a bit') out[at]! ^= 1 << Math.floor(random() * 8);
  if (kind === 'zeros') out.fill(0, at, Math.min(at + length, out.length));
  if (kind === 'noise') {
    for (let i = at; i < Math.min(at + length, out.length); i++) out[i] = random() * 256;
  }
  if (kind === 'a cut') out = out.subarray(0, at);
  if (kind === 'a shift') out.copy(out, at, Math.min(at + length, out.length));
  writeFileSync(path, out);
  return `${kind} at ${at} of ${file}`;
}
