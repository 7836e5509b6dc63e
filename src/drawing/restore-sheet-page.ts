import type { RestoreSheet } from '../tuning/bow/restore-sheet.ts';
import { Html, html } from './html.ts';

/** A restore sheet as a page of its own, to print and to take to the bench. */
export function restoreSheetPage(sheet: RestoreSheet): string {
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <title>Back to ${sheet.title}: ${sheet.bow}</title>
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <style>
          ${new Html(STYLE)}
        </style>
      </head>
      <body>
        <h1>Back to “${sheet.title}”</h1>
        <p>
          ${sheet.bow}, ${sheet.hand}-handed, written down on ${sheet.date.slice(0, 10)}. Bare
          shafts wanted: ${sheet.preferred}.
        </p>
        ${sheet.notes === '' ? null : html`<p class="notes">${sheet.notes}</p>`}
        <h2>Readings</h2>
        <table>
          <tbody>
            ${sheet.values.map(
              ({ name, reading }) =>
                html`<tr>
                  <th scope="row">${name}</th>
                  <td>${reading}</td>
                  <td class="box" aria-hidden="true"></td>
                </tr>`,
            )}
          </tbody>
        </table>
        <h2>The work, in this order</h2>
        <ol>
          ${sheet.work.map((step) => html`<li>${step}</li>`)}
        </ol>
        <h2>Mind</h2>
        ${sheet.cautions.map((caution) => html`<p class="caution">${caution}</p>`)}
        <p class="foot">
          The rules of your club and range come first, and a qualified coach's word outweighs this
          sheet.
        </p>
      </body>
    </html>`.text;
}

const STYLE = `
@page { size: A4; margin: 15mm }
body { font: 12pt/1.45 system-ui, sans-serif; color: #000; background: #fff; max-width: 180mm; margin: 8mm auto; padding: 0 4mm }
h1 { font-size: 20pt; margin: 0 0 3mm } h2 { font-size: 14pt; margin: 6mm 0 2mm; break-after: avoid }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
th, td { text-align: left; vertical-align: top; padding: 1.5mm 2mm; border-bottom: .3mm solid #bbb; overflow-wrap: anywhere }
.box::after { content: ''; display: inline-block; width: 4mm; height: 4mm; border: .4mm solid #000 } .box { width: 8mm }
tr, li, .caution { break-inside: avoid } ol { padding-left: 7mm; margin: 0 } li { margin: 1.5mm 0 }
.caution { border-left: 1mm solid #000; padding-left: 3mm; margin: 2mm 0 } .notes { white-space: pre-line }
.foot { font-size: 10pt; color: #333 }
@media print { body { margin: 0; padding: 0; max-width: none } }
`;
