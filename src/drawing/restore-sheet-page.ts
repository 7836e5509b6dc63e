import type { RestoreSheet } from '../tuning/bow/restore-sheet.ts';
import { html } from './html.ts';
import { printPage } from './print-page.ts';

/** A restore sheet as a page of its own, to print and to take to the bench. */
export function restoreSheetPage(sheet: RestoreSheet): string {
  return printPage({
    title: `Back to ${sheet.title}: ${sheet.bow}`,
    heading: `Back to “${sheet.title}”`,
    body: [
      html`<p>
        ${sheet.bow}, ${sheet.hand}-handed, written down on ${sheet.date.slice(0, 10)}. Bare shafts
        wanted: ${sheet.preferred}.
      </p>`,
      sheet.notes === '' ? null : html`<p class="notes">${sheet.notes}</p>`,
      html`<h2>Readings</h2>
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
        </table>`,
      html`<h2>The work, in this order</h2>
        <ol>
          ${sheet.work.map((step) => html`<li>${step}</li>`)}
        </ol>`,
      html`<h2>Mind</h2>
        ${sheet.cautions.map((caution) => html`<p class="caution">${caution}</p>`)}`,
    ],
    foot: "The rules of your club and range come first, and a qualified coach's word outweighs this sheet.",
    style: STYLE,
  });
}

/** Larger than a table of results: it is read at arm's length, tools in hand. */
const STYLE = `
body { font-size: 12pt } h2 { font-size: 14pt; margin-top: 6mm } th, td { padding: 1.5mm 2mm }
.box::after { content: ''; display: inline-block; width: 4mm; height: 4mm; border: .4mm solid #000 } .box { width: 8mm }
ol { padding-left: 7mm; margin: 0 } li { margin: 1.5mm 0 } .caution { margin: 2mm 0; font-size: 12pt } .notes { white-space: pre-line }
`;
