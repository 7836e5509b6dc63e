import { signal, type Signal } from '@preact/signals';
import type { z } from 'zod';

const PREFIX = 'endwise.';

/** A signal whose value outlives the page; what is stored but no longer fits falls back. */
export function remembered<T>(key: string, schema: z.ZodType<T>, fallback: T): Signal<T> {
  const read = (text: string | null): T => {
    if (text === null) return fallback;
    try {
      return schema.parse(JSON.parse(text));
    } catch {
      return fallback;
    }
  };
  let stored: string | null = null;
  try {
    stored = localStorage.getItem(PREFIX + key);
  } catch {
    // Storage is barred (private browsing): the value lives as long as the page.
  }
  const value = signal(read(stored));
  value.subscribe((now) => {
    try {
      localStorage.setItem(PREFIX + key, JSON.stringify(now));
    } catch {
      // As above.
    }
  });
  window.addEventListener('storage', (event) => {
    if (event.key === PREFIX + key) value.value = read(event.newValue);
  });
  return value;
}
