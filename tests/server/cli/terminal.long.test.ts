import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { Log } from '../../../server/log/log.ts';
import { fillSample, sampleEnd } from '../log/sample-log.ts';
import { temporaryFolder } from '../temporary-folder.ts';
import { HAS_TERMINAL, runInTerminal } from './run-in-terminal.ts';

const folder = temporaryFolder();
const BOW = ['--bow', 'ilka-bow'];

beforeAll(async () => {
  const log = await Log.open(join(folder, 'data'));
  await fillSample(log);
  await log.putEnd(sampleEnd('ilka', 1));
  await log.close();
  mkdirSync(join(folder, 'evening'));
  const meadow = sharp({ create: { width: 400, height: 400, channels: 3, background: 'green' } });
  const photo = await meadow.jpeg().toBuffer();
  for (const name of ['1.jpg', '2.jpg']) writeFileSync(join(folder, 'evening', name), photo);
  const marks = [
    { mm: [-31.8, 12.4], kind: 'fletched' },
    { mm: [40, 55.1], kind: 'bare' },
  ];
  writeFileSync(join(folder, 'end.json'), JSON.stringify({ distanceM: 30, marks }));
});

/** In this order: a later command takes up what an earlier one made. */
const COMMANDS: readonly (readonly [
  args: readonly string[],
  status: number | null,
  says: RegExp,
])[] = [
  [['--help'], 0, /Commands:/],
  [['--version'], 0, /^\d+\.\d+\.\d+\r\n$/],
  [['batch', 'evening', '--out', 'results.jsonl'], 1, /2\/2, 2 failed.*2 photos: 0 read, 2 fai/s],
  [['sheets', 'results.jsonl', '--out', 'sheets'], 1, /2 need a look/],
  [['read', 'evening/1.jpg'], 1, /No target face was found/],
  [['offset', 'end.json'], 0, /bare/],
  [['setups', ...BOW], 0, /First/],
  [['trend', ...BOW], 0, /30 m/],
  [['compare', 'First', 'First', ...BOW], 0, /First/],
  [['export', 'all.zip'], 0, /1 ends and 0 photos are in all\.zip/],
  [['import', 'all.zip'], 1, /This log is not empty/],
  [['pair'], 0, /^[A-Z0-9]{4}-[A-Z0-9]{4}\r\n$/],
  [['devices'], 0, /^$/],
  // 1 where the page is not built yet.
  [['doctor'], null, /ok {7}log: sound, 1 ends/],
];

describe.skipIf(!HAS_TERMINAL)('at a terminal', () => {
  for (const [args, status, says] of COMMANDS) {
    it(`endwise ${args[0]}`, { timeout: 120_000 }, async () => {
      const { screen, ...ended } = await runInTerminal(args, { folder });
      expect(screen).toMatch(says);
      expect(screen).not.toMatch(/\n\s+at /);
      if (status !== null) expect(ended.status).toBe(status);
    });
  }

  it('endwise serve --phone says address, code and QR code', { timeout: 120_000 }, async () => {
    const { screen, status } = await runInTerminal(['serve', '--phone', '--port', '0'], {
      folder,
      interruptAt: /Ctrl-C ends it/,
    });
    const plain = stripVTControlCharacters(screen);
    expect(plain).toMatch(/endwise is at http:\/\/localhost:\d+\//);
    // Where the tests run may be no network at all.
    expect(plain).toMatch(
      /This machine is on no network|open http:\/\/[\d.]+:\d+\/pair .*[▀▄█]{10}.*The code is [A-Z0-9]{4}-[A-Z0-9]{4}/s,
    );
    expect(plain).toMatch(/Finishing what is being read/);
    expect(status).toBe(0);
  });
});
