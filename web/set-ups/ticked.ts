import { z } from 'zod';
import { remembered } from '../state/remembered.ts';

/** Steps of lists that were ticked, by the list's name; what is finished is forgotten. */
export const ticked = remembered('ticked', z.record(z.string(), z.array(z.string())), {});

export function tick(list: string, step: string, isDone: boolean): void {
  const steps = ticked.value[list] ?? [];
  const now = isDone ? [...steps, step] : steps.filter((other) => other !== step);
  ticked.value = { ...ticked.value, [list]: now };
}

export function forgetTicks(list: string): void {
  ticked.value = Object.fromEntries(Object.entries(ticked.value).filter(([name]) => name !== list));
}
