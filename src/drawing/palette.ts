import type { Ink } from '../face/faces.ts';

/** Colours of a drawing. Any CSS colour; a page may hand in custom properties of its theme. */
export interface Palette {
  /** Behind everything; 'none' leaves it open. */
  readonly background: string;
  readonly ink: string;
  readonly muted: string;
  /** Lines of the axes and the printed rings. */
  readonly line: string;
  readonly fletched: string;
  readonly bare: string;
  readonly unknown: string;
  readonly old: string;
  /** Drawn under marks and lines so that they stand out on any ground. */
  readonly casing: string;
  /** Where bare shafts are wanted. */
  readonly wanted: string;
  /** Zone grounds, paler than print so that marks stay in front. */
  readonly zones: Readonly<Record<Ink, string>>;
}

/** For paper, files and light pages. */
export const PAPER: Palette = {
  background: '#ffffff',
  ink: '#1b211e',
  muted: '#59625d',
  line: '#8d9691',
  fletched: '#5c1a94',
  bare: '#005f4b',
  unknown: '#3c4043',
  old: '#59625d',
  casing: '#ffffff',
  wanted: '#1b211e',
  zones: {
    yellow: '#fdf3bd',
    red: '#fbd7d3',
    blue: '#d3ecf8',
    navy: '#c9d3e6',
    black: '#d9dcdb',
    white: '#f7f7f4',
  },
};

/** Fonts a drawing asks for, best first. */
export const FONT_FAMILY =
  "'Atkinson Hyperlegible Next Variable', 'Atkinson Hyperlegible Next', 'DejaVu Sans', system-ui, sans-serif";
