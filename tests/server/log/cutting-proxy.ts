import { connect, createServer, type AddressInfo } from 'node:net';
import { onTestFinished } from 'vitest';

export type Cut = 'before the commit' | 'after the commit' | 'nothing';

/** As the driver sends it, by the simple protocol: a statement that ends in a null byte. */
const COMMIT = Buffer.from('COMMIT\0');

/**
 * Stands between endwise and PostgreSQL and cuts the connection at a commit: before PostgreSQL hears of
 * it, or once it has made it and before endwise hears so.
 * @param of asked at each commit
 * @returns the address through it
 */
export async function cuttingProxy(address: string, of: () => Cut): Promise<string> {
  const target = new URL(address);
  const server = createServer((near) => {
    const far = connect(Number(target.port), target.hostname);
    let silent = false;
    const cut = () => {
      near.destroy();
      far.destroy();
    };
    near.on('data', (bytes) => {
      const what = bytes.includes(COMMIT) ? of() : 'nothing';
      if (what === 'before the commit') cut();
      else {
        silent = what === 'after the commit';
        far.write(bytes);
      }
    });
    far.on('data', (bytes) => (silent ? cut() : near.write(bytes)));
    for (const end of [near, far]) end.on('error', cut).on('close', cut);
  }).listen(0, '127.0.0.1');
  await new Promise((resolve) => server.once('listening', resolve));
  onTestFinished(() => void server.close());
  const through = new URL(address);
  through.port = String((server.address() as AddressInfo).port);
  return through.href;
}
