import { expect, it } from 'vitest';
import { networkAddresses } from '../../../server/http/network-addresses.ts';
import { phoneGuide } from '../../../server/http/phone-guide.ts';

const at = (address: string, internal = false) => [
  { address, internal, family: 'IPv4' as const, netmask: '', mac: '', cidr: null },
];

it('names the address of the Wi-Fi first, and never one that only this machine knows', () => {
  const addresses = networkAddresses({
    lo: at('127.0.0.1', true),
    docker0: at('172.17.0.1'),
    wg0: at('10.8.0.2'),
    eth1: at('169.254.3.4'),
    eth0: at('203.0.113.9'),
    wlan0: at('192.168.178.20'),
  });
  expect(addresses).toEqual(['192.168.178.20', '203.0.113.9', '172.17.0.1', '10.8.0.2']);
});

it('leads a person to the page, and says what plain HTTP cannot do', async () => {
  const code = 'ABCD-EFGH';
  const said = await phoneGuide({ addresses: ['192.168.178.20', '10.8.0.2'], port: 4170, code });
  expect(said).toContain('http://192.168.178.20:4170/pair');
  expect(said).toContain('http://10.8.0.2:4170/');
  expect(said).toContain('The code is ABCD-EFGH');
  expect(said).toMatch(/without the network.*HTTPS/s);
  expect(await phoneGuide({ addresses: [], port: 4170, code })).toContain('on no network');
});
