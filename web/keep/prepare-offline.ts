import { signal } from '@preact/signals';
import { registerSW } from 'virtual:pwa-register';
import { warmReader } from '../reader/read-in-worker.ts';
import { VISION_CACHE } from './vision-cache.ts';

/**
 * Whether photos are read without signal: null where that cannot be, or is not known yet. 'ready' is
 * said only of what the browser has kept.
 */
export const withoutSignal = signal<'loading' | 'ready' | null>(null);

/**
 * Makes the page usable without signal: the service worker keeps the page, and once it is in charge
 * what reads photos is kept too, unless the person saves data.
 */
export async function prepareOffline(): Promise<void> {
  if (!('serviceWorker' in navigator)) return;
  registerSW({ immediate: true });
  await navigator.serviceWorker.ready;
  if (!navigator.serviceWorker.controller) {
    await new Promise((resolve) =>
      navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
    );
  }
  const saveData = (navigator as { connection?: { saveData?: boolean } }).connection?.saveData;
  if (saveData) return;
  withoutSignal.value = 'loading';
  try {
    withoutSignal.value = (await keepReader()) ? 'ready' : null;
  } catch (error) {
    withoutSignal.value = null;
    throw error;
  }
}

async function keepReader(): Promise<boolean> {
  const parts = await warmReader({ rehearse: false });
  const own = parts.filter((part) => part.startsWith(location.origin));
  const kept = await caches.open(VISION_CACHE);
  // The reader may have been loaded before the service worker was in charge and could keep it.
  await Promise.all(own.map(async (part) => (await kept.match(part)) ?? kept.add(part)));
  return own.length > 0;
}
