import { registerSW } from 'virtual:pwa-register';
import { warmReader } from '../reader/read-in-worker.ts';

/**
 * Makes the page usable without signal: the service worker keeps the page, and once it is in charge
 * the vision module is fetched through it, unless the person saves data.
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
  const parts = await warmReader({ rehearse: false });
  // The reader may have been loaded before the service worker was in charge and could keep it.
  const own = parts.filter((part) => part.startsWith(location.origin));
  await Promise.all(own.map((part) => fetch(part)));
}
