import { mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Listening } from '../../../server/http/listen.ts';
import { Log } from '../../../server/log/log.ts';
import { bowSchema } from '../../../src/tuning/bow/set-up.ts';
import { fillSample, sampleEnd, sampleSetUp } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { accessOfArcher } from './access-of-archer.ts';
import { testServer } from './test-server.ts';

const folder = temporaryFolder();
const uploadFolder = join(folder, 'uploads');
let log: Log;
let server: Listening;
let photo: Buffer;

beforeAll(async () => {
  mkdirSync(uploadFolder);
  log = await Log.open(join(folder, 'log'));
  await fillSample(log);
  server = await testServer({ uploadFolder, log });
  photo = await sharp({ create: { width: 40, height: 30, channels: 3, background: 'red' } })
    .jpeg()
    .toBuffer();
});

const api = (path: string, init?: RequestInit) =>
  fetch(new URL(`/api/log/${path}`, server.url), init);
const put = (path: string, thing: unknown) =>
  api(path, {
    method: 'PUT',
    body: JSON.stringify(thing),
    headers: { 'content-type': 'application/json' },
  });
function putWithPhoto(end: { id: string }) {
  const form = new FormData();
  form.append('end', JSON.stringify(end));
  form.append('photo', new Blob([new Uint8Array(photo)]));
  return api(`ends/${end.id}`, { method: 'PUT', body: form });
}
const codeOf = async (response: Response) =>
  ((await response.json()) as { error: { code: string } }).error.code;

describe('/api/log', () => {
  it('keeps an end with its photo, hands both out, and takes it again', async () => {
    for (let time = 0; time < 2; time++) {
      expect((await putWithPhoto(sampleEnd('ilka', 1))).status).toBe(200);
    }
    const ends = (await (await api('ends')).json()) as { id: string; photo: { file: string } }[];
    expect(ends.map((end) => end.id)).toEqual(['ilka-end-1']);
    const stored = await api('ends/ilka-end-1/photo');
    expect(stored.headers.get('content-type')).toBe('image/jpeg');
    expect((await sharp(await stored.arrayBuffer()).metadata()).width).toBe(40);
    expect(readdirSync(uploadFolder)).toEqual([]);
  });

  it('refuses in a sentence, with a status that fits', async () => {
    const same = await putWithPhoto(sampleEnd('ilka', 2));
    expect([same.status, await codeOf(same)]).toEqual([409, 'same-photo']);
    const changed = await put('set-ups/ilka-first', {
      ...sampleSetUp('ilka'),
      preferredMrad: [3, 3],
    });
    expect([changed.status, await codeOf(changed)]).toEqual([409, 'snapshot-changed']);
    const stray = await put('ends/x', { ...sampleEnd('ilka', 3), id: 'x', sessionId: 'nobody' });
    expect([stray.status, await codeOf(stray)]).toEqual([404, 'unknown-session']);
    const other = await put('ends/other', sampleEnd('ilka', 3));
    expect([other.status, await codeOf(other)]).toEqual([400, 'bad-request']);
    expect((await put('archers/x', { id: 'x', hand: 'right', name: '' })).status).toBe(400);
    expect((await api('ends/ilka-end-9/photo')).status).toBe(404);
  });

  it('takes a change of an end only over what its sender knows of, and deletes likewise', async () => {
    const put = (end: object, headers: Record<string, string>) =>
      api('ends/ilka-end-7', {
        method: 'PUT',
        body: JSON.stringify(end),
        headers: { 'content-type': 'application/json', ...headers },
      });
    const end = sampleEnd('ilka', 7);
    const first = await put(end, { 'if-none-match': '*' });
    const known = first.headers.get('etag')!;
    // Sent once more because the answer was lost on its way: no conflict.
    expect((await put(end, { 'if-none-match': '*' })).headers.get('etag')).toBe(known);
    const elsewhere = await put({ ...end, notes: 'gust' }, { 'if-match': known });
    expect(elsewhere.status).toBe(200);
    const late = await put({ ...end, notes: 'calm' }, { 'if-match': known });
    expect([late.status, await codeOf(late)]).toEqual([412, 'changed-elsewhere']);
    expect((await put({ ...end, notes: 'calm' }, { 'if-none-match': '*' })).status).toBe(412);
    const there = await api('ends/ilka-end-7');
    expect([there.headers.get('etag'), await there.json()]).toEqual([
      elsewhere.headers.get('etag'),
      expect.objectContaining({ notes: 'gust' }),
    ]);
    const remove = (version: string) =>
      api('ends/ilka-end-7', { method: 'DELETE', headers: { 'if-match': version } });
    expect((await remove(known)).status).toBe(412);
    expect((await remove(elsewhere.headers.get('etag')!)).status).toBe(204);
    const gone = await put(end, { 'if-match': known });
    expect([gone.status, await codeOf(gone)]).toEqual([412, 'deleted-elsewhere']);
  });

  it('renames, archives and deletes a bow only over what the sender knows of', async () => {
    const bow = { ...bowSchema.parse({ id: 'ilka-new', archerId: 'ilka', name: 'New', hand: 'right', adjusters: [] }) }; // prettier-ignore
    const putBow = (row: object, headers: Record<string, string>) =>
      api('bows/ilka-new', {
        method: 'PUT',
        body: JSON.stringify(row),
        headers: { 'content-type': 'application/json', ...headers },
      });
    const known = (await putBow(bow, { 'if-none-match': '*' })).headers.get('etag')!;
    expect((await putBow({ ...bow, name: 'Other' }, { 'if-none-match': '*' })).status).toBe(412);
    const archived = { ...bow, name: 'Old', archived: true };
    const changed = await putBow(archived, { 'if-match': known });
    expect(changed.status).toBe(204);
    const there = await api('bows/ilka-new');
    expect([there.headers.get('etag'), await there.json()]).toEqual([
      changed.headers.get('etag'),
      archived,
    ]);
    const late = await putBow({ ...bow, name: 'Late' }, { 'if-match': known });
    expect([late.status, await codeOf(late)]).toEqual([412, 'changed-elsewhere']);
    const remove = (version: string) =>
      api('bows/ilka-new', { method: 'DELETE', headers: { 'if-match': version } });
    expect((await remove(known)).status).toBe(412);
    expect((await remove(changed.headers.get('etag')!)).status).toBe(204);
    expect((await api('bows/ilka-new')).status).toBe(404);
    expect((await putBow(bow, { 'if-match': known })).status).toBe(412);
  });

  it('corrects a set-up that its sender knows, and deletes what nothing was shot with', async () => {
    const fresh = { ...sampleSetUp('tomas', 'tomas-second'), name: 'Second' };
    const putSetUp = (setUp: object, headers: Record<string, string> = {}) =>
      api('set-ups/tomas-second', {
        method: 'PUT',
        body: JSON.stringify(setUp),
        headers: { 'content-type': 'application/json', ...headers },
      });
    const version = (await putSetUp(fresh)).headers.get('etag')!;
    const corrected = { ...fresh, preferredMrad: [1, 1] };
    expect((await putSetUp(corrected)).status).toBe(409);
    expect((await putSetUp(corrected, { 'if-match': version })).status).toBe(204);
    const late = await putSetUp({ ...fresh, notes: 'x' }, { 'if-match': version });
    expect([late.status, await codeOf(late)]).toEqual([412, 'changed-elsewhere']);
    expect((await api('set-ups/tomas-second', { method: 'DELETE' })).status).toBe(204);
    for (const path of ['set-ups/tomas-first', 'bows/tomas-bow']) {
      const used = await api(path, { method: 'DELETE' });
      expect([used.status, await codeOf(used)]).toEqual([409, 'in-use']);
    }
    await put('bows/spare', { id: 'spare', archerId: 'tomas', name: 'Spare', hand: 'right', adjusters: [] }); // prettier-ignore
    expect((await api('bows/spare', { method: 'DELETE' })).status).toBe(204);
    expect((await api('bows/spare', { method: 'DELETE' })).status).toBe(404);
  });

  it('reads a bow from its log', async () => {
    await put('ends/ilka-end-4', sampleEnd('ilka', 4));
    const reading = (await (await api('bows/ilka-bow/reading')).json()) as {
      setUpId: string;
      record: { sigmaMrad: number };
      timeline: { points: unknown[] };
    };
    expect(reading.setUpId).toBe('ilka-first');
    expect(reading.record.sigmaMrad).toBeGreaterThan(0);
    expect(reading.timeline.points).toHaveLength(1);
    expect((await api('bows/ilka-bow/reading?setUp=nope')).status).toBe(404);
  });

  it('exports everything and imports it into an empty log', async () => {
    const archive = await (await api('export')).blob();
    const empty = await Log.open(join(folder, 'empty'));
    const second = await testServer({ uploadFolder, log: empty });
    const form = new FormData();
    form.append('archive', archive);
    const taken = await fetch(new URL('/api/log/import', second.url), {
      method: 'POST',
      body: form,
    });
    expect(await taken.json()).toEqual({ ends: 2, photos: 1 });
    expect(await empty.everything()).toEqual(await log.everything());
    expect((await api('ends.csv')).headers.get('content-disposition')).toContain('.csv');
  });

  it('says what went when an archer is deleted', async () => {
    const gone = await api('archers/ilka', { method: 'DELETE' });
    expect(await gone.json()).toMatchObject({
      message: 'The archer is deleted, with 2 ends and 1 photos.',
    });
  });
});

describe('LogAccess', () => {
  it('lets an archer see and change their own part only', async () => {
    const own = await Log.open(join(folder, 'access'));
    await fillSample(own);
    await own.putEnd(sampleEnd('ilka', 1), photo);
    const tomas = accessOfArcher(own, 'tomas', 'see-record');
    const keeping = accessOfArcher(own, 'tomas', 'keep-record');
    const deleting = accessOfArcher(own, 'tomas', 'delete-record');
    expect((await tomas.archers()).map((archer) => archer.id)).toEqual(['tomas']);
    expect((await tomas.bows()).map((bow) => bow.id)).toEqual(['tomas-bow']);
    expect((await tomas.setUps()).map((setUp) => setUp.id)).toEqual(['tomas-first']);
    expect(await tomas.ends()).toEqual([]);
    expect((await tomas.everything()).ends).toEqual([]);
    const session = (await own.sessions('tomas'))[0]!;
    for (const attempt of [
      () => tomas.photo('ilka-end-1'),
      () => tomas.bowLog('ilka-bow'),
      () => deleting.deleteEnd('ilka-end-1'),
      () => accessOfArcher(own, 'tomas', 'delete-archer').deleteArcher('ilka'),
      () => keeping.putEnd(sampleEnd('ilka', 2)),
      // Another's end cannot be pulled over by sending it under one's own session.
      () => keeping.putEnd({ ...sampleEnd('tomas', 1), id: 'ilka-end-1' }),
      () => keeping.putSession({ ...session, bowId: 'ilka-bow' }),
      () => keeping.putSession({ ...session, id: 'ilka-evening' }),
    ]) {
      await expect(attempt()).rejects.toMatchObject({ status: 404 });
    }
    await keeping.putEnd(sampleEnd('tomas', 1));
    expect(await tomas.ends()).toHaveLength(1);
  });
});
