import { randomUUID } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Express } from 'express';
import sharp from 'sharp';
import { describe, expect, it, onTestFinished } from 'vitest';
import { guardedRoutes } from '../../../server/http/create-app.ts';
import type { GuardedRoute } from '../../../server/http/guarded-routes.ts';
import { listen } from '../../../server/http/listen.ts';
import { KEEPER, type Holder } from '../../../server/log/device-store.ts';
import { Log } from '../../../server/log/log.ts';
import { COMMAND_LINE } from '../../../server/log/trail.ts';
import { PoolReadings } from '../../../server/reading/pool-readings.ts';
import type { Readings } from '../../../server/reading/readings.ts';
import { may, ROLES, type Owner, type Role } from '../../../src/club/rights.ts';
import { ENGINES, newAddress, type Engine } from '../log/engines.ts';
import { fillSample, NAMES, sampleEnd, sampleSetUp, type SampleArcher } from '../log/sample-log.ts';
import { queueOfTests, submissionOf, workerOfTests } from '../queue/queue-of-tests.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { appOfTests, depsOfTests } from './app-of-tests.ts';
import { fromTheNetwork } from './from-the-network.ts';
import { noFacePool } from './no-face-pool.ts';

const root = temporaryFolder();
const uploadFolder = join(root, 'uploads');
mkdirSync(uploadFolder);

const EVERYBODY = Object.keys(NAMES) as SampleArcher[];

/** Whom each role asks about, and whose they are for it: the archer's device is Ilka's, the coach coaches Tomás. */
const SEEN: Readonly<Record<Role, Readonly<Partial<Record<SampleArcher, Owner>>>>> = {
  archer: { ilka: 'own', tomas: 'other' },
  coach: { tomas: 'coached', edda: 'other' },
  keeper: { edda: 'other' },
};

/** Who is there to put something of in another's place. */
const OWN: Readonly<Partial<Record<Role, SampleArcher>>> = { archer: 'ilka', coach: 'tomas' };

/** Routes that let in everybody, by their own rules. */
const OPEN = ['GET /health', 'GET /ready', 'POST /pair'];

/** Every route of an app below /api, past whatever it was registered with. */
function routesOf(app: Express): string[] {
  interface Layer {
    readonly route?: {
      readonly path: string;
      readonly methods?: Readonly<Record<string, boolean>>;
      readonly stack: readonly { readonly method?: string }[];
    };
    readonly handle: { readonly stack?: readonly Layer[] };
  }
  const found: string[] = [];
  const walk = (layers: readonly Layer[]) => {
    for (const { route, handle } of layers) {
      if (route) {
        const methods = new Set(route.stack.map(({ method }) => method?.toUpperCase() ?? 'ALL'));
        for (const method of methods) found.push(`${method} ${route.path}`);
      } else if (handle.stack) walk(handle.stack);
    }
  };
  const { stack } = (app as unknown as { router: { stack: readonly Layer[] } }).router;
  walk(stack);
  // The pairing page is a page, not a route of the interface.
  return found.filter((one) => one !== 'GET /pair').sort();
}

/** A club with three archers, each with an end, its photo, a device and a spare bow and set-up. */
async function clubOf(engine: Engine) {
  const address = await newAddress(engine, root);
  const log = await Log.open(address);
  onTestFinished(() => log.close());
  let readings: Readings = new PoolReadings(noFacePool);
  if (engine === 'PostgreSQL') {
    const queue = await queueOfTests({ url: address });
    workerOfTests(queue);
    ({ readings } = queue);
  }
  const photo = await sharp({ create: { width: 24, height: 18, channels: 3, background: 'red' } })
    .png()
    .toBuffer();
  const device: Record<string, string> = {};
  const pairedAs = async (holder: Holder, label: string) => {
    const paired = await log.devices.pair(await log.devices.newCode(holder, { label }));
    return { id: paired!.deviceId, cookie: `endwise=${paired!.token}` };
  };
  /** Whatever of an archer was deleted is there again. */
  const ensure = async (archer: SampleArcher) => {
    await fillSample(log, [archer]);
    const [bow] = await log.bows(archer);
    await log.putBow({ ...bow!, id: `${archer}-spare` });
    await log.putSetUp(sampleSetUp(archer, `${archer}-unused`));
    const end = sampleEnd(archer, 1);
    const isThere = (await log.ends(archer)).some(({ id }) => id === end.id);
    if (!isThere) await log.putEnd(end, photo);
    const devices = await log.devices.devices();
    if (!devices.some(({ id }) => id === device[archer])) {
      device[archer] = (await pairedAs({ role: 'archer', archerId: archer }, 'spare')).id;
    }
    const coach = { id: 'marta', name: 'Marta Quell', archerIds: ['tomas'] };
    if (archer === 'tomas') await log.coaches.put(coach, COMMAND_LINE);
  };
  for (const archer of EVERYBODY) await ensure(archer);
  const cookies: Record<Role, string> = {
    archer: (await pairedAs({ role: 'archer', archerId: 'ilka' }, "Ilka's phone")).cookie,
    coach: (await pairedAs({ role: 'coach', coachId: 'marta' }, 'coach tablet')).cookie,
    keeper: (await pairedAs(KEEPER, 'club desk')).cookie,
  };
  const deps = { uploadFolder, log, readings };
  const app = appOfTests(deps);
  // From an address each, as limits go by addresses.
  const urls: Partial<Record<Role, string>> = {};
  for (const [number, role] of ROLES.entries()) {
    const network = fromTheNetwork(app, `192.0.2.${number + 1}`);
    const server = await listen(network, { host: '127.0.0.1', port: 0 });
    onTestFinished(() => server.close());
    urls[role] = server.url;
  }
  const pairAgain = async () => {
    cookies.archer = (await pairedAs({ role: 'archer', archerId: 'ilka' }, "Ilka's phone")).cookie;
  };
  const routes = guardedRoutes(depsOfTests(deps)).routes;
  return {
    log,
    readings,
    app,
    routes,
    urls: urls as Record<Role, string>,
    cookies,
    device,
    ensure,
    pairAgain,
  };
}

type Club = Awaited<ReturnType<typeof clubOf>>;

interface Asked {
  readonly path: string;
  readonly body?: unknown;
  readonly form?: Readonly<Record<string, string>>;
}

/** 'nobody' is an archer who is not there. */
type Target = SampleArcher | 'nobody';

interface Walked {
  /** The request about what belongs to an archer. */
  readonly ofArcher?: (target: Target, club: Club) => Asked | Promise<Asked>;
  /** The request about what belongs to no archer. */
  readonly ofClub?: (club: Club) => Asked;
  /** The request that puts something of one's own in the place of what belongs to an archer. */
  readonly over?: (target: SampleArcher, own: SampleArcher) => Asked;
  /** What everybody may who is paired. */
  readonly own?: () => Asked;
  /** Of a list: whether it tells of an archer. Others are refused by their status. */
  readonly tells?: (text: string, target: SampleArcher, club: Club) => boolean;
}

const listed = (path: string): Walked => ({
  ofArcher: () => ({ path }),
  tells: (text, target) => text.includes(`"${target}`) || text.includes(NAMES[target]),
});
const at = (path: (target: Target) => string): Walked => ({
  ofArcher: (target) => ({ path: path(target) }),
});
const idOf = (target: Target) => target;
const sessionOf = (target: Target) => ({
  id: `${idOf(target)}-evening`,
  archerId: target,
  bowId: `${target}-bow`,
  setUpId: `${target}-first`,
  date: '2031-05-04T18:00:00+02:00',
  setting: 'outdoor',
  distanceM: 30,
  face: 'wa80',
  notes: randomUUID(),
});
const bowOf = (archerId: Target) => ({
  id: `${archerId}-bow`,
  archerId,
  name: 'Bow',
  hand: 'right',
  adjusters: [],
  notes: randomUUID(),
});
const jobOf = async (target: Target, { readings }: Club) => {
  if (target === 'nobody') return randomUUID();
  return readings.submit(submissionOf('meadow', { ofArcher: target }));
};

/** A request for every route, by method and path. */
const WALK: Readonly<Record<string, Walked>> = {
  'GET /rights': { own: () => ({ path: 'rights' }) },
  'GET /devices': {
    ofArcher: () => ({ path: 'devices' }),
    tells: (text, target, { device }) => text.includes(device[target]!),
  },
  'DELETE /devices/:id': {
    ofArcher: (target, { device }) => ({
      path: `devices/${target === 'nobody' ? randomUUID() : device[target]!}`,
    }),
  },
  'POST /pairing-codes': {
    ofArcher: (archer) => ({ path: 'pairing-codes', body: { archer } }),
    ofClub: () => ({ path: 'pairing-codes', body: { keeper: true } }),
  },
  'GET /coaches': { ofClub: () => ({ path: 'coaches' }) },
  'PUT /coaches/:id': {
    ofClub: () => ({
      path: 'coaches/otto',
      body: { id: 'otto', name: 'Otto Veen', archerIds: ['edda'] },
    }),
  },
  'DELETE /coaches/:id': { ofClub: () => ({ path: 'coaches/otto' }) },
  'GET /trail': { ofClub: () => ({ path: 'trail' }) },
  'POST /offset': {
    own: () => ({
      path: 'offset',
      body: {
        hand: 'right',
        distanceM: 30,
        marks: [
          { mm: [0, 0], kind: 'fletched' },
          { mm: [9, 0], kind: 'fletched' },
          { mm: [40, 50], kind: 'bare' },
        ],
      },
    }),
  },
  'POST /readings': {
    ofArcher: (archer) => ({
      path: 'readings',
      form: { photo: 'words', request: JSON.stringify({ archer }) },
    }),
  },
  'GET /readings/:id': {
    ofArcher: async (target, club) => ({ path: `readings/${await jobOf(target, club)}` }),
  },
  'DELETE /readings/:id': {
    ofArcher: async (target, club) => ({ path: `readings/${await jobOf(target, club)}` }),
  },
  'GET /log/archers': listed('log/archers'),
  'PUT /log/archers/:id': {
    ofArcher: (id) => ({
      path: `log/archers/${id}`,
      body: { id, name: `Renamed ${id}`, hand: 'right', notes: randomUUID() },
    }),
  },
  'DELETE /log/archers/:id': at((target) => `log/archers/${target}`),
  'GET /log/bows': listed('log/bows'),
  'GET /log/bows/:id': at((target) => `log/bows/${target}-bow`),
  'PUT /log/bows/:id': {
    ofArcher: (archerId) => ({
      path: `log/bows/${archerId}-bow`,
      body: bowOf(archerId),
    }),
    over: (target, own) => ({
      path: `log/bows/${target}-bow`,
      body: { ...bowOf(own), id: `${target}-bow` },
    }),
  },
  'DELETE /log/bows/:id': at((target) => `log/bows/${target}-spare`),
  'GET /log/bows/:id/reading': at((target) => `log/bows/${target}-bow/reading`),
  'GET /log/set-ups': listed('log/set-ups'),
  'GET /log/set-ups/:id': at((target) => `log/set-ups/${target}-first`),
  'PUT /log/set-ups/:id': {
    ofArcher: (target) => ({
      path: `log/set-ups/${target}-unused`,
      body: { ...sampleSetUp(target, `${target}-unused`), notes: randomUUID() },
    }),
    over: (target, own) => ({
      path: `log/set-ups/${target}-unused`,
      body: sampleSetUp(own, `${target}-unused`),
    }),
  },
  'DELETE /log/set-ups/:id': at((target) => `log/set-ups/${target}-unused`),
  'GET /log/sessions': listed('log/sessions'),
  'PUT /log/sessions/:id': {
    ofArcher: (target) => ({ path: `log/sessions/${target}-evening`, body: sessionOf(target) }),
    over: (target, own) => ({
      path: `log/sessions/${target}-evening`,
      body: { ...sessionOf(own), id: `${target}-evening` },
    }),
  },
  'GET /log/ends': listed('log/ends'),
  'GET /log/ends/:id': at((target) => `log/ends/${target}-end-1`),
  'PUT /log/ends/:id': {
    ofArcher: (target) => ({
      path: `log/ends/${target}-end-1`,
      body: sampleEnd(target, 1, { notes: randomUUID() }),
    }),
    over: (target, own) => ({
      path: `log/ends/${target}-end-1`,
      body: { ...sampleEnd(own, 1), id: `${target}-end-1` },
    }),
  },
  'DELETE /log/ends/:id': at((target) => `log/ends/${target}-end-1`),
  'GET /log/ends/:id/photo': at((target) => `log/ends/${target}-end-1/photo`),
  'GET /log/ends.csv': listed('log/ends.csv'),
  'GET /log/arrows.csv': listed('log/arrows.csv'),
  'GET /log/export': {
    ofArcher: (target) => ({ path: `log/export?archer=${target}` }),
  },
  'POST /log/import': {
    ofClub: () => ({ path: 'log/import', form: { archive: 'none' } }),
  },
};

async function ask(
  club: Club,
  { method }: GuardedRoute,
  asked: Asked,
  role: Role,
  cookie = club.cookies[role],
) {
  const { path, body, form } = asked;
  const init: RequestInit = { method: method.toUpperCase(), headers: { cookie } };
  if (body !== undefined) {
    init.body = JSON.stringify(body);
    init.headers = { cookie, 'content-type': 'application/json' };
  }
  if (form) {
    const data = new FormData();
    for (const [name, value] of Object.entries(form)) {
      if (name === 'request') data.append(name, value);
      else data.append(name, new Blob([value]));
    }
    init.body = data;
  }
  const response = await fetch(new URL(`api/${path}`, club.urls[role]), init);
  return { status: response.status, text: await response.text() };
}

/** Everything that a request could have changed but the trail and readings. */
async function state({ log }: Club): Promise<string> {
  return JSON.stringify([
    await log.everything(),
    await log.devices.devices(),
    await log.coaches.coaches(),
  ]);
}

const REFUSED = new Set([401, 403, 404]);

/** An answer without the archer it speaks of. */
const impersonal = (text: string, target: Target) => text.replaceAll(target, 'somebody');

describe.each(ENGINES)('rights with the log in %s', (engine) => {
  it(
    'every route is held against the table, for each role and whosever it is',
    { timeout: 240_000 },
    async () => {
      const club = await clubOf(engine);
      const { routes, log } = club;
      const named = routes.map(({ method, path }) => `${method.toUpperCase()} ${path}`);
      expect([...named, ...OPEN].sort()).toEqual(routesOf(club.app));
      expect(Object.keys(WALK).sort()).toEqual([...named].sort());

      const wrong: unknown[] = [];
      let cases = 0;
      for (const [number, route] of routes.entries()) {
        const key = named[number]!;
        const { ofArcher, over, ofClub, own, tells } = WALK[key]!;
        const { action } = route;
        const some = own?.() ?? ofClub?.(club) ?? (await ofArcher!('nobody', club));
        const stranger = await ask(club, route, some, 'keeper', 'endwise=x');
        if (stranger.status !== 401) wrong.push([key, 'stranger', stranger.status]);
        for (const role of ROLES) {
          const expected = async (
            owner: Owner,
            whose: string,
            asked: Asked,
            target?: SampleArcher,
          ) => {
            cases++;
            const allowed = may(role, action, owner);
            const isRefusedChange = !allowed && route.method !== 'get';
            const before = isRefusedChange ? await state(club) : null;
            const { status, text } = await ask(club, route, asked, role);
            const done = tells && target ? tells(text, target, club) : !REFUSED.has(status);
            if (done !== allowed) wrong.push([key, role, whose, status, text.slice(0, 120)]);
            if (status >= 500) wrong.push([key, role, whose, status]);
            if (before !== null && (await state(club)) !== before)
              wrong.push([key, role, whose, 'changed']);
            return { status, text };
          };
          if (own) await expected('own', 'own', own());
          // The coach that is deleted must be there.
          if (key === 'DELETE /coaches/:id') {
            await log.coaches.put({ id: 'otto', name: 'Otto Veen', archerIds: [] }, COMMAND_LINE);
          }
          if (ofClub) await expected('club', 'club', ofClub(club));
          if (!ofArcher) continue;
          for (const [target, owner] of Object.entries(SEEN[role]) as [SampleArcher, Owner][]) {
            const { status, text } = await expected(
              owner,
              target,
              await ofArcher(target, club),
              target,
            );
            const mine = OWN[role];
            if (over && owner === 'other' && mine) {
              const put = await expected(owner, `over ${target}`, over(target, mine), target);
              if (put.text.includes(NAMES[target])) wrong.push([key, role, target, 'names', put]);
            }
            if (may(role, action, owner)) {
              if (route.method === 'delete') {
                await club.ensure(target);
                const isOwnDevice = target === 'ilka' && key === 'DELETE /log/archers/:id';
                if (isOwnDevice) await club.pairAgain();
              }
              continue;
            }
            if (text.includes(NAMES[target])) wrong.push([key, role, target, 'names', text]);
            if (tells) continue;
            // What is another's is answered as what nobody has.
            const none = await ask(club, route, await ofArcher('nobody', club), role);
            const same = [none.status, impersonal(none.text, 'nobody')];
            const told = [status, impersonal(text, target)];
            if (JSON.stringify(told) !== JSON.stringify(same))
              wrong.push([key, role, target, told, same]);
          }
        }
      }
      expect(wrong).toEqual([]);
      expect(cases).toBeGreaterThan(120);
    },
  );
});
