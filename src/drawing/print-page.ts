import { Html, html } from './html.ts';

export interface PrintPage {
  /** In the browser's title bar, and the file's name when it is printed to one. */
  readonly title: string;
  readonly heading: string;
  readonly body: readonly (Html | null)[];
  /** Said last, in small type. */
  readonly foot: string;
  /** Rules of this kind of page, beside those that all share. @default none */
  readonly style?: string;
}

/** A page to print, complete in one text: black on white, A4 with room for a binding. */
export function printPage({ title, heading, body, foot, style = '' }: PrintPage): string {
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <title>${title}</title>
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <style>
          ${new Html(STYLE + style)}
        </style>
      </head>
      <body>
        <h1>${heading}</h1>
        ${body}
        <p class="foot">${foot}</p>
      </body>
    </html> `.text;
}

const STYLE = `
@page { size: A4; margin: 15mm }
body { font: 11pt/1.4 system-ui, sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 8mm auto; padding: 0 4mm }
h1 { font-size: 20pt; margin: 0 0 4mm } h2 { font-size: 13pt; margin: 0 0 2mm; break-after: avoid }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
th, td { text-align: left; vertical-align: top; padding: 1mm 2mm; border-bottom: .3mm solid #bbb; overflow-wrap: anywhere }
thead { display: table-header-group } tr, li, .caution { break-inside: avoid }
.caution { border-left: 1mm solid #000; padding-left: 3mm; font-size: 10pt }
.foot { font-size: 9pt; color: #333 }
@media print { body { margin: 0; padding: 0; max-width: none } }
`;
