import { z } from 'zod';
import { remembered } from './remembered.ts';

export const THEMES = ['system', 'light', 'dark', 'daylight'] as const;
export type Theme = (typeof THEMES)[number];

/** Daylight is black on white with heavy lines, for a screen in the sun. */
export const theme = remembered<Theme>('theme', z.enum(THEMES), 'system');

theme.subscribe((now) => {
  document.documentElement.dataset.theme = now;
});
