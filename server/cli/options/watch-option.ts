import { InvalidArgumentError, Option } from 'commander';
import type { WatchAddress } from '../../watch/watch-server.ts';

/** Of a process that runs for long. */
export function watchOption(): Option {
  return new Option(
    '--metrics <address:port>',
    "answer /metrics, /health and /ready there, to an operator's tools alone (127.0.0.1:9464)",
  ).argParser(watchAddress);
}

function watchAddress(text: string): WatchAddress {
  const [, bracketed, plain, digits] = /^(?:\[(.+)\]|([^:\s]+)):(\d+)$/.exec(text) ?? [];
  const host = bracketed ?? plain;
  const port = Number(digits);
  if (host === undefined || port > 65_535) {
    throw new InvalidArgumentError('An address and a port, like 127.0.0.1:9464.');
  }
  return { host, port };
}
