import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { exportLog } from '../../../server/log/export-log.ts';
import { Log } from '../../../server/log/log.ts';
import { MIGRATIONS } from '../../../server/log/migrations.ts';
import { takeArchiveIn } from '../../../server/log/take-archive-in.ts';
import { fillSample, sampleEnd, sampleSetUp } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { accessOfArcher } from './access-of-archer.ts';
import { testServer } from './test-server.ts';

const root = temporaryFolder();
const uploadFolder = join(root, 'uploads');
let log: Log;
let url: string;

beforeAll(async () => {
  mkdirSync(uploadFolder);
  log = await Log.open(join(root, 'log'));
  await fillSample(log);
  await log.putSetUp({ ...sampleSetUp('tomas', 'tomas-secret'), name: 'Secret of Tomás' });
  url = (await testServer({ uploadFolder, log })).url;
});
afterAll(() => log.close());

async function ask(method: string, path: string, body?: unknown) {
  const answer = await fetch(new URL(`/api/log/${path}`, url), {
    method,
    ...(body === undefined
      ? {}
      : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }),
  });
  const text = await answer.text();
  return { status: answer.status, text };
}

it("refuses ends, sessions and set-ups that name another archer's, and tells nothing of them", async () => {
  const ilka = accessOfArcher(log, 'ilka', 'keep-record');
  const [session] = await log.sessions('ilka');
  const attempts = [
    () => ilka.putEnd(sampleEnd('ilka', 1, { setUpId: 'tomas-secret' })),
    () => ilka.putSession({ ...session!, setUpId: 'tomas-secret' }),
    () => ilka.putSession({ ...session!, id: 'new', bowId: 'tomas-bow' }),
    () => ilka.putSetUp({ ...sampleSetUp('ilka', 'tomas-secret') }),
    // The coach may not mix them either.
    () => log.putEnd(sampleEnd('ilka', 1, { setUpId: 'tomas-secret' })),
    () => log.putSession({ ...session!, id: 'new', bowId: 'tomas-bow' }),
  ];
  for (const attempt of attempts) {
    const error = (await attempt().then(
      () => null,
      (one: unknown) => one,
    )) as { code: string; message: string } | null;
    expect(error?.code).toMatch(/^unknown-/);
    expect(error?.message).not.toContain('Secret');
  }
  expect(await log.ends()).toEqual([]);
});

it('answers 409 where a bow or session would go over to another archer', async () => {
  const [session] = await log.sessions('ilka');
  const [bow] = await log.bows('ilka');
  for (const [path, body] of [
    ['sessions/ilka-evening', { ...session, archerId: 'tomas', bowId: 'tomas-bow', setUpId: 'tomas-first' }], // prettier-ignore
    ['bows/ilka-bow', { ...bow, archerId: 'tomas' }],
  ] as const) {
    const { status, text } = await ask('PUT', path, body);
    expect([status, text]).toEqual([409, expect.stringContaining('kept for another archer')]);
  }
  expect((await log.sessions('ilka'))[0]).toEqual(session);
});

it('deletes an archer whole, also where earlier versions let others name their set-up', async () => {
  const folder = join(root, 'mixed');
  const before = await Log.open(folder);
  await fillSample(before);
  await before.putEnd(sampleEnd('ilka', 1));
  await before.close();
  // As an earlier endwise left it: unsealed, and mixed.
  const old = new Database(join(folder, 'log.sqlite'));
  old.exec("UPDATE ends SET set_up_id = 'tomas-first'; UPDATE sessions SET bow_id = 'tomas-bow'");
  for (const table of ['coached', 'devices', 'pairing_codes', 'coaches', 'trail']) {
    old.exec(`DROP TABLE ${table}`);
  }
  MIGRATIONS[1]!(old);
  for (const table of ['archers', 'bows', 'set_ups', 'sessions', 'ends']) {
    old.exec(`ALTER TABLE ${table} DROP COLUMN seal`);
  }
  for (const table of ['bows', 'set_ups']) old.exec(`ALTER TABLE ${table} DROP COLUMN archived`);
  old.exec('ALTER TABLE ends DROP COLUMN scoring; ALTER TABLE arrows DROP COLUMN arrow_number');
  old.pragma('user_version = 2');
  old.close();
  const mixed = await Log.open(folder);
  await mixed.deleteArcher('tomas');
  const left = await mixed.everything();
  expect(left.archers.map(({ id }) => id)).toEqual(['ilka']);
  expect(left.ends.map(({ id }) => id)).toEqual(['ilka-end-1']);
  expect(JSON.stringify(left)).not.toContain('tomas');
  await exportLog(mixed, join(root, 'ilka.zip'), { archerId: 'ilka' });
  const again = await Log.open(join(root, 'again'));
  expect(await takeArchiveIn(again, join(root, 'ilka.zip'))).toEqual({ ends: 1, photos: 0 });
  await Promise.all([mixed.close(), again.close()]);
});

it('exports what is there and says what is missing', async () => {
  const folder = join(root, 'partly');
  const whole = await Log.open(folder);
  await fillSample(whole);
  const photo = (background: string) =>
    sharp({ create: { width: 40, height: 30, channels: 3, background } })
      .png()
      .toBuffer();
  const gone = await whole.putEnd(sampleEnd('ilka', 1), await photo('red'));
  const altered = await whole.putEnd(sampleEnd('ilka', 2), await photo('green'));
  await whole.putEnd(sampleEnd('ilka', 3), await photo('blue'));
  await whole.putEnd(sampleEnd('ilka', 4));
  rmSync(join(whole.photoFolder!.folder, gone.photo!.file));
  writeFileSync(join(whole.photoFolder!.folder, altered.photo!.file), 'altered');
  await whole.close();
  const raw = new Database(join(folder, 'log.sqlite'));
  raw.exec("UPDATE ends SET shot_at = 'yesterday' WHERE id = 'ilka-end-4'");
  raw.close();

  const partly = await Log.open(folder);
  const path = join(root, 'partly.zip');
  const exported = await exportLog(partly, path);
  expect([exported.ends, exported.photos]).toEqual([3, 1]);
  expect(exported.missing).toEqual([
    'The log is damaged where it keeps the end "ilka-end-4".',
    expect.stringMatching(/^The end of 2031-05-04T18:01 lacks its photo\. .* is missing/),
    expect.stringMatching(/^The end of 2031-05-04T18:02 lacks its photo\. .* damaged or altered/),
  ]);
  const again = await Log.open(join(root, 'partly-again'));
  expect(await takeArchiveIn(again, path)).toEqual({ ends: 3, photos: 1 });
  await Promise.all([partly.close(), again.close()]);
});
