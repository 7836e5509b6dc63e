import { openEnds } from './ends.ts';
import type { OpenEnd } from '../state/open-end.ts';
import { settings, type Settings } from '../state/settings.ts';

/**
 * Notes what a person says of an end, remembers it for the next, and says the same of the other ends
 * that are open with it, as long as nothing else was said of them. What is said of an end that was kept
 * corrects that one alone.
 */
export function sayOfEnd(end: OpenEnd, said: Partial<Settings>): void {
  const before = end.settings.value;
  if (end.isKept) {
    end.settings.value = { ...before, ...said };
    return;
  }
  for (const other of openEnds.value) {
    if (other === end) continue;
    const theirs = other.settings.value;
    const alike = Object.keys(said).every(
      (key) => theirs[key as keyof Settings] === before[key as keyof Settings],
    );
    if (alike) other.settings.value = { ...theirs, ...said };
  }
  end.settings.value = { ...before, ...said };
  settings.value = { ...settings.value, ...said };
}
