import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { appOfTests } from './app-of-tests.ts';
import { listen, type Listening } from '../../../server/http/listen.ts';
import { KEEPER } from '../../../server/log/device-store.ts';
import { Log } from '../../../server/log/log.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fromTheNetwork } from './from-the-network.ts';

const HTML = 'text/html; charset=utf-8';
const folder = temporaryFolder();
let log: Log;
let server: Listening;
let app: ReturnType<typeof appOfTests>;

beforeAll(async () => {
  mkdirSync(join(folder, 'uploads'));
  log = await Log.open(join(folder, 'log'));
  await fillSample(log);
  await log.putEnd(sampleEnd('ilka', 1));
  app = appOfTests({
    uploadFolder: join(folder, 'uploads'),
    log,
  });
  server = await listen(fromTheNetwork(app), { host: '127.0.0.1', port: 0 });
});
afterAll(() => server.close());

const at = (path: string, init?: RequestInit) => fetch(new URL(path, server.url), init);
async function pairWith(code: string): Promise<[number, string]> {
  const response = await at('/api/pair', {
    method: 'POST',
    body: JSON.stringify({ code }),
    headers: { 'content-type': 'application/json' },
  });
  return [response.status, response.headers.get('set-cookie') ?? ''];
}
const list = async (cookie: string) =>
  (await (await at('/api/log/ends', { headers: { cookie } })).json()) as unknown[];

describe('a visitor from the network', () => {
  it('gets nothing without a code but the pairing page and the health', async () => {
    expect((await at('/api/health')).status).toBe(200);
    expect((await at('/api/log/ends')).status).toBe(401);
    expect((await at('/api/devices')).status).toBe(401);
    expect((await at('/api/readings', { method: 'POST' })).status).toBe(401);
    const forged = { headers: { cookie: 'endwise=x', 'x-forwarded-for': '127.0.0.1' } };
    expect((await at('/api/log/ends', forged)).status).toBe(401);
    const page = await (await at('/pair?code=AB"><script>x</script>')).text();
    expect(page).toContain('value="ABscriptxscript"');
  });

  it('is let in by a code, to everything or to one archer, until revoked', async () => {
    const [status, cookie] = await pairWith((await log.devices.newCode(KEEPER)).toLowerCase());
    expect(status).toBe(200);
    expect(cookie).toMatch(/^endwise=[\w-]{43};.*HttpOnly; SameSite=Strict$/);
    expect(await list(cookie)).toHaveLength(1);

    const [, ofTomas] = await pairWith(
      await log.devices.newCode({ role: 'archer', archerId: 'tomas' }),
    );
    expect(await list(ofTomas)).toEqual([]);
    const own: unknown = await (await at('/api/devices', { headers: { cookie: ofTomas } })).json();
    expect(own).toMatchObject([{ holder: { role: 'archer', archerId: 'tomas' } }]);
    expect(
      (await at('/api/log/import', { method: 'POST', headers: { cookie: ofTomas } })).status,
    ).toBe(403);

    await log.devices.revoke();
    expect((await at('/api/log/ends', { headers: { cookie } })).status).toBe(401);
  });

  it('pairs by the form as browsers post it, and goes on to the page', async () => {
    const form = await at('/pair?code=AB"><script>x</script>');
    // Under 'no-referrer' the form would come with the origin 'null'.
    expect(form.headers.get('referrer-policy')).toBe('same-origin');
    const post = (code: string, origin = new URL(server.url).origin) =>
      at('/api/pair', {
        method: 'POST',
        redirect: 'manual',
        headers: { origin, accept: 'text/html,application/xhtml+xml,*/*;q=0.8' },
        body: new URLSearchParams({ code }),
      });
    const paired = await post(await log.devices.newCode(KEEPER));
    expect([paired.status, paired.headers.get('location')]).toEqual([303, '../?paired']);
    expect(paired.headers.get('set-cookie')).toMatch(/^endwise=/);

    const wrong = await post('AAAA-BBBB');
    expect([wrong.status, wrong.headers.get('content-type')]).toEqual([403, HTML]);
    const again = await wrong.text();
    expect(again).toContain('role="alert">The code is wrong or too old');
    expect(again).toContain('value="AAAA-BBBB"');

    const foreign = await post('AAAA-BBBB', 'https://elsewhere.example');
    expect([foreign.status, foreign.headers.get('content-type')]).toEqual([403, HTML]);
    expect(await foreign.text()).toContain('href="../">Back to endwise');
  });

  it.each([
    ['de-AT,de;q=0.9,en;q=0.5', 'de', 'Dieses Gerät koppeln', 'Der Code ist falsch oder zu alt'],
    ['fr-CH', 'fr', 'Associer cet appareil', 'Le code est faux ou trop vieux'],
    ['nl', 'en', 'Pair this device', 'The code is wrong or too old'],
  ])(
    'is asked for the code, and told what is wrong with it, in %s',
    async (asked, lang, title, wrong) => {
      const headers = { 'accept-language': asked, accept: 'text/html' };
      const form = await at('/pair', { headers });
      expect(form.headers.get('vary')).toContain('Accept-Language');
      const page = await form.text();
      expect(page).toContain(`<html lang="${lang}">`);
      expect(page).toContain(`<h1>${title}</h1>`);
      const origin = new URL(server.url).origin;
      const refused = await at('/api/pair', {
        method: 'POST',
        headers: { ...headers, origin },
        body: new URLSearchParams({ code: 'AAAA-BBBB' }),
      });
      expect(await refused.text()).toContain(`role="alert">${wrong}`);
      const lost = await at('/api/nowhere', { headers });
      expect(await lost.text()).toContain(`<html lang="${lang}">`);
    },
  );

  it('cannot use a code that is old, nor try many', async () => {
    const old = await log.devices.newCode(KEEPER, { now: Date.now() - 13 * 3600_000 });
    expect((await pairWith(old))[0]).toBe(403);
    let last = 0;
    for (let i = 0; i < 12; i++) [last] = await pairWith('AAAA-AAAA');
    expect(last).toBe(429);
    expect((await pairWith(await log.devices.newCode(KEEPER)))[0]).toBe(429);
  });

  it('is let in by the right code whatever others have tried from elsewhere', async () => {
    const others = await listen(fromTheNetwork(app, '192.0.2.99'), { host: '127.0.0.1', port: 0 });
    const pairAt = (url: string, code: string) =>
      fetch(new URL('/api/pair', url), {
        method: 'POST',
        body: JSON.stringify({ code }),
        headers: { 'content-type': 'application/json' },
      });
    let refused: Response | undefined;
    for (let i = 0; i < 11; i++) refused = await pairAt(others.url, 'BBBB-BBBB');
    expect(refused!.status).toBe(429);
    // Says when to come back.
    expect(Number(refused!.headers.get('retry-after'))).toBeGreaterThan(0);
    const third = await listen(fromTheNetwork(app, '192.0.2.100'), { host: '127.0.0.1', port: 0 });
    expect((await pairAt(third.url, await log.devices.newCode(KEEPER))).status).toBe(200);
    await Promise.all([others.close(), third.close()]);
  });

  it('finds no code or token in the database file', async () => {
    const code = await log.devices.newCode(KEEPER);
    const paired = await log.devices.pair(code);
    await log.close();
    const bytes = readFileSync(join(folder, 'log', 'log.sqlite')).toString('latin1');
    expect(bytes).toContain('pairing_codes');
    expect(bytes).not.toContain(code.replace('-', ''));
    expect(bytes).not.toContain(paired!.token);
  });
});
