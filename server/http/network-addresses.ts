import { networkInterfaces } from 'node:os';
import { isIPv4 } from 'node:net';

type Interfaces = ReturnType<typeof networkInterfaces>;

/** Networks between this machine and its own guests, and tunnels: a phone is hardly ever on one. */
const INSIDE =
  /^(docker|br-|veth|virbr|vboxnet|vmnet|utun|tun|tap|wg|lxc|podman|cni|zt|vEthernet)/i;

/** Addresses of homes' and clubs' networks (RFC 1918). */
const LOCAL = /^(10\.|192\.168\.|172\.(1[6-9]|2\d|3[01])\.)/;

/**
 * IPv4 addresses under which other devices may reach this machine, the likeliest for a phone on the
 * same Wi-Fi first.
 */
export function networkAddresses(interfaces: Interfaces = networkInterfaces()): string[] {
  return Object.entries(interfaces)
    .flatMap(([name, list]) => (list ?? []).map((one) => ({ name, ...one })))
    .filter(({ internal, address }) => !internal && isIPv4(address))
    .filter(({ address }) => !address.startsWith('169.254.'))
    .map(({ name, address }) => ({
      address,
      unlikely: (INSIDE.test(name) ? 2 : 0) + (LOCAL.test(address) ? 0 : 1),
    }))
    .sort((a, b) => a.unlikely - b.unlikely)
    .map(({ address }) => address);
}
