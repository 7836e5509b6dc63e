import type { Signal } from '@preact/signals';
import { z } from 'zod';
import { remembered } from '../state/remembered.ts';

/** Whether the browser was asked to keep what is stored here, and what it said. */
export const storageAsked: Signal<'no' | 'granted' | 'refused'> = remembered(
  'storage-asked',
  z.enum(['no', 'granted', 'refused']),
  'no',
);

/** Browsers may clear what a page stored when room is short, unless they were asked not to: once. */
export async function askToStay(): Promise<void> {
  if (storageAsked.value !== 'no') return;
  // Over plain HTTP there is nothing to ask.
  const storage = navigator.storage as StorageManager | undefined;
  if (!storage?.persist) return;
  storageAsked.value = (await storage.persist()) ? 'granted' : 'refused';
}
