import { isIPv4 } from 'node:net';
import { networkInterfaces } from 'node:os';
import { toString as qrCode } from 'qrcode';
import type { Log } from '../log/log.ts';
import type { Listening } from './listen.ts';

/** Prints a new pairing code, and as a QR code for phones the address where it is typed in. */
export async function showPairing(
  log: Log,
  { port }: Pick<Listening, 'port'>,
  archerId?: string,
): Promise<void> {
  const code = await log.devices.newCode(archerId ?? null);
  const address = networkAddress();
  const url = `http://${address}:${port}/pair?code=${code}`;
  console.log(`On the network it is at http://${address}:${port}/`);
  console.log(`Pairing code, for 12 hours: ${code}\n`);
  console.log(await qrCode(url, { type: 'terminal', small: true }));
}

function networkAddress(): string {
  const all = Object.values(networkInterfaces()).flatMap((list) => list ?? []);
  return all.find(({ internal, address }) => !internal && isIPv4(address))?.address ?? 'localhost';
}
