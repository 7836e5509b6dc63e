import { z } from 'zod';
import { arrowNumberSchema, byArrowNumber } from '../../src/request/arrow-number.ts';
import { remembered } from './remembered.ts';

/** So many are offered as buttons. */
const OFFERED = 12;

/** Numbers that were given to marks on this device, the last one first. */
const given = remembered('arrow-numbers', z.array(arrowNumberSchema), []);

/** What is offered for a mark: the numbers given lately, filled up from 1. */
export function offeredNumbers(): string[] {
  const lately = given.value.slice(0, OFFERED);
  const others = Array.from({ length: OFFERED }, (_, i) => String(i + 1));
  return [...new Set([...lately, ...others])].slice(0, OFFERED).sort(byArrowNumber);
}

export function rememberNumber(arrowNumber: string): void {
  const others = given.value.filter((one) => one !== arrowNumber);
  given.value = [arrowNumber, ...others].slice(0, OFFERED);
}
