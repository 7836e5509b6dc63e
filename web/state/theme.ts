import { z } from 'zod';
import { remembered } from './remembered.ts';

export const THEMES = ['system', 'light', 'dark', 'daylight'] as const;
export type Theme = (typeof THEMES)[number];

/** Daylight is black on white with heavy lines, for a screen in the sun. */
export const theme = remembered<Theme>('theme', z.enum(THEMES), 'system');

const systemIsDark = window.matchMedia('(prefers-color-scheme: dark)');

function show(): void {
  const asSystem = systemIsDark.matches ? 'dark' : 'light';
  document.documentElement.dataset.theme = theme.peek() === 'system' ? asSystem : theme.peek();
}

theme.subscribe(show);
systemIsDark.addEventListener('change', show);
