import { ENGLISH, type Words } from '../words/words.ts';
import { Html, html } from './html.ts';

export const PAPERS = ['A4', 'A5', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

/** Room around what is printed, and how large its letters are beside those on A4. */
const LAYOUT: Readonly<Record<Paper, { readonly margin: string; readonly scale: number }>> = {
  A4: { margin: '15mm', scale: 1 },
  A5: { margin: '8mm 9mm', scale: 0.72 },
  letter: { margin: '12mm 15mm', scale: 0.97 },
};

export interface PrintPage {
  /** In the browser's title bar, and the file's name when it is printed to one. */
  readonly title: string;
  readonly heading: string;
  readonly body: readonly (Html | null)[];
  /** Said last, in small type. */
  readonly foot: string;
  /** Rules of this kind of page, beside those that all share. @default none */
  readonly style?: string;
  /** @default 'A4' */
  readonly paper?: Paper;
  /** @default ENGLISH */
  readonly words?: Words;
}

/** A page to print in its parts, to be put into a page that is there. */
export interface PrintParts {
  readonly title: string;
  /** HTML. */
  readonly content: string;
  /** CSS, with the size of the paper. */
  readonly style: string;
}

export function printParts(page: PrintPage): PrintParts {
  const { title, heading, body, foot, style = '', paper = 'A4' } = page;
  const { margin, scale } = LAYOUT[paper];
  const content = html`<main class="print">
    <h1>${heading}</h1>
    ${body}
    <p class="foot">${foot}</p>
  </main>`.text;
  const size = `@page { size: ${paper}; margin: ${margin} }\n.print { font-size: ${11 * scale}pt }\n`;
  return { title, content, style: STYLE + size + style };
}

/** A page to print, complete in one text: black on white, with room for a binding. */
export function printPage(page: PrintPage): string {
  const { title, content, style } = printParts(page);
  return html`<!doctype html>
    <html lang="${(page.words ?? ENGLISH).language}">
      <head>
        <meta charset="utf-8" />
        <title>${title}</title>
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <style>
          ${new Html(style)}
        </style>
      </head>
      <body>
        ${new Html(content)}
      </body>
    </html> `.text;
}

const STYLE = `
body { margin: 0; background: #fff }
.print { font-family: system-ui, sans-serif; line-height: 1.4; color: #000; background: #fff; max-width: 190mm; margin: 8mm auto; padding: 0 4mm }
.print h1 { font-size: 1.82em; margin: 0 0 .55em } .print h2 { font-size: 1.18em; margin: 0 0 .5em; break-after: avoid }
.print table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
.print th, .print td { text-align: left; vertical-align: top; padding: .26em .5em; border-bottom: .3mm solid #bbb; overflow-wrap: anywhere }
.print thead { display: table-header-group } .print tr, .print li, .print .caution { break-inside: avoid }
.print .caution { border-left: 1mm solid #000; padding-left: 3mm; font-size: .91em }
.print .foot { font-size: .82em; color: #333 }
@media print { .print { margin: 0; padding: 0; max-width: none } }
`;
