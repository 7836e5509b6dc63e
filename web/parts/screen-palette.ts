import type { Palette } from '../../src/drawing/palette.ts';

/** The drawing's colours as the page's theme has them. */
export const SCREEN: Palette = {
  background: 'var(--plot-ground)',
  ink: 'var(--ink)',
  muted: 'var(--quiet)',
  line: 'var(--plot-line)',
  fletched: 'var(--fletched)',
  bare: 'var(--bare)',
  unknown: 'var(--untagged)',
  old: 'var(--quiet)',
  casing: 'var(--casing)',
  wanted: 'var(--ink)',
  zones: {
    yellow: 'var(--zone-yellow)',
    red: 'var(--zone-red)',
    blue: 'var(--zone-blue)',
    navy: 'var(--zone-navy)',
    black: 'var(--zone-black)',
    white: 'var(--zone-white)',
  },
};
