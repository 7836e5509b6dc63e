import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { withOwnBow } from '../../../web/store/own-bow.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { fillSample, sampleEnd } from './sample-log.ts';

let log: Log;
beforeAll(async () => {
  log = await Log.open(join(temporaryFolder(), 'log'));
  await fillSample(log);
});
afterAll(() => log.close());

it('a bow that two archers shoot stands in the log once for each', async () => {
  const [archer] = (await log.archers()).filter(({ id }) => id === 'tomas');
  const [bow] = await log.bows('ilka');
  const [setUp] = await log.setUps('ilka-bow');
  const [session] = await log.sessions('ilka');
  const shared = {
    archer: archer!,
    bow: { ...bow!, archerId: 'tomas' },
    setUp: setUp!,
    session: { ...session!, id: 'ilka-bow-2031-05-04-30m-wa80', archerId: 'tomas' },
    end: sampleEnd('ilka', 7, { sessionId: 'ilka-bow-2031-05-04-30m-wa80' }),
  };
  await expect(log.putBow(shared.bow)).rejects.toMatchObject({ code: 'of-another-archer' });
  const own = withOwnBow(shared);
  await log.putBow(own.bow);
  await log.putSetUp(own.setUp);
  await log.putSession(own.session);
  await log.putEnd(own.end);
  expect((await log.ends('tomas')).map(({ id }) => id)).toEqual(['ilka-end-7']);
  expect([own.bow.id, own.session.id]).toEqual(['ilka-bow-tomas', 'ilka-bow-tomas-2031-05-04-30m-wa80']); // prettier-ignore
});
