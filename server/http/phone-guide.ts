import { toString as qrCode } from 'qrcode';
import { CODE_MINUTES } from '../log/device-store.ts';

export interface PhoneGuideOptions {
  /** Addresses of this machine, the likeliest first. */
  readonly addresses: readonly string[];
  readonly port: number;
  readonly code: string;
}

/** Cameras want so much white around a QR code (ISO/IEC 18004), whatever colour the terminal has. */
const QUIET_MODULES = 4;

/** What a person at the terminal needs to get a phone onto the page: address, code, and both as QR. */
export async function phoneGuide({ addresses, port, code }: PhoneGuideOptions): Promise<string> {
  const [address, ...others] = addresses;
  if (address === undefined) {
    return `This machine is on no network: join the Wi-Fi that the phone is on, and start again.\n`;
  }
  const page = (at: string) => `http://${at}:${port}/`;
  const pair = `${page(address)}pair`;
  const qr = await qrCode(`${pair}?code=${code}`, { type: 'utf8', margin: QUIET_MODULES });
  const elsewhere =
    others.length === 0 ? '' : `   If nothing answers there: ${others.map(page).join(' or ')}\n`;
  return `
On a phone or tablet in the same Wi-Fi

1. Point its camera at this, or open ${pair} in its browser:
${elsewhere}
${qr.split('\n').map(blackOnWhite).join('\n')}
2. Press "Pair". The code is ${code}, good for one device and ${CODE_MINUTES} minutes;
   then another is shown here.

Photos are read on the phone itself and kept there; under "Kept" it says what of them goes into the
log on this machine. All that works while the phone reaches this machine.
Browsers leave out over plain HTTP: opening the page without the network, putting it on the home
screen, and reading on several cores. For these it takes HTTPS: "endwise site FOLDER" writes the page
as files for any web space, and README.md has a recipe for a server behind a proxy.

Does the page not open? Phone and computer must be in one network (guest Wi-Fi keeps devices apart),
and the computer's firewall must let in port ${port}.
`;
}

function blackOnWhite(line: string): string {
  return line === '' ? '' : `\x1b[30;107m${line}\x1b[0m`;
}
