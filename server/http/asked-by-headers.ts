import type { Request } from 'express';
import { URGENCY } from '../reading/readings.ts';
import { HttpError } from './http-error.ts';

/** A client's wishes about a reading that stand in headers. */
export interface AskedByHeaders {
  /** `Prefer: respond-async` (RFC 7240): an address to ask at later is enough. */
  readonly later: boolean;
  /** `Prefer: wait=10` (RFC 7240): for so long, s. */
  readonly waitSeconds: number;
  /** `Priority: u=6` (RFC 9218); nobody comes before those who just ask. */
  readonly urgency: number;
  /** `Idempotency-Key` (IETF draft): the same upload sent again is not read twice. */
  readonly key: string | undefined;
}

const LONGEST_WAIT_SECONDS = 60;
const LONGEST_KEY = 200;

/** @throws HttpError for a key that is none */
export function askedByHeaders(request: Request): AskedByHeaders {
  const prefer = (request.get('prefer') ?? '').toLowerCase().split(/\s*[,;]\s*/);
  const wait = Number(prefer.map((one) => /^wait\s*=\s*"?(\d+)"?$/.exec(one)?.[1]).find(Boolean));
  const urgency = Number(
    /(?:^|,)\s*u=([0-7])\s*(?:[,;]|$)/.exec(request.get('priority') ?? '')?.[1],
  );
  return {
    later: prefer.includes('respond-async'),
    waitSeconds: Math.min(wait || 0, LONGEST_WAIT_SECONDS),
    urgency: Math.max(Number.isNaN(urgency) ? 0 : urgency, URGENCY.asked),
    key: keyOf(request.get('idempotency-key')),
  };
}

function keyOf(header: string | undefined): string | undefined {
  const key = header?.trim().replace(/^"(.*)"$/, '$1');
  if (key === undefined) return undefined;
  if (key === '' || key.length > LONGEST_KEY || !/^[\x20-\x7e]+$/.test(key)) {
    throw new HttpError(
      400,
      'bad-request',
      `Idempotency-Key: 1 to ${LONGEST_KEY} letters, digits or signs of ASCII.`,
    );
  }
  return key;
}
