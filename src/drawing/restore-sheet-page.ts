import type { JourneySheet } from '../tuning/bow/journey-sheet.ts';
import type { RestoreSheet } from '../tuning/bow/restore-sheet.ts';
import { html, type Html } from './html.ts';
import {
  printPage,
  printParts,
  type Paper,
  type PrintPage,
  type PrintParts,
} from './print-page.ts';

/** A restore sheet as a page of its own, to print and to take to the bench. */
export function restoreSheetPage(sheet: RestoreSheet, paper?: Paper): string {
  return printPage(restoreParts(sheet, paper));
}

/** The same, to print from within another page. */
export function restoreSheetParts(sheet: RestoreSheet, paper?: Paper): PrintParts {
  return printParts(restoreParts(sheet, paper));
}

/** What to note before a journey and to check at its end, to print from within another page. */
export function journeySheetParts(sheet: JourneySheet, paper?: Paper): PrintParts {
  return printParts({
    title: `On a journey: ${sheet.bow}`,
    heading: `On a journey with “${sheet.title}”`,
    body: [
      html`<p>${sheet.bow}, ${sheet.hand}-handed. Bare shafts wanted: ${sheet.preferred}.</p>`,
      html`<h2>Before you leave</h2>
        ${boxes(sheet.before)}`,
      html`<h2>On arrival, in this order</h2>
        ${boxes(sheet.arrival)}`,
      mind(sheet.cautions),
    ],
    foot: FOOT,
    style: STYLE,
    ...(paper && { paper }),
  });
}

function restoreParts(sheet: RestoreSheet, paper: Paper | undefined): PrintPage {
  return {
    title: `Back to ${sheet.title}: ${sheet.bow}`,
    heading: `Back to “${sheet.title}”`,
    body: [
      html`<p>
        ${sheet.bow}, ${sheet.hand}-handed, written down on ${sheet.date.slice(0, 10)}. Bare shafts
        wanted: ${sheet.preferred}.
      </p>`,
      sheet.notes === '' ? null : html`<p class="notes">${sheet.notes}</p>`,
      readings(
        'Already as it should be',
        sheet.values.filter(({ isSet }) => !isSet),
      ),
      html`<h2>The work, in this order</h2>
        ${boxes(sheet.work)}`,
      mind(sheet.cautions),
    ],
    foot: FOOT,
    style: STYLE,
    ...(paper && { paper }),
  };
}

const FOOT =
  "The rules of your club and range come first, and a qualified coach's word outweighs this sheet.";

function readings(title: string, values: JourneySheet['values']): Html | null {
  if (values.length === 0) return null;
  return html`<h2>${title}</h2>
    <dl class="sheet-readings">
      ${values.map(
        ({ name, reading }) =>
          html`<div>
            <dt>${name}</dt>
            <dd>${reading}</dd>
          </div>`,
      )}
    </dl>`;
}

function boxes(steps: readonly string[]): Html {
  return html`<ol class="boxes">
    ${steps.map((step) => html`<li>${step}</li>`)}
  </ol>`;
}

function mind(cautions: readonly string[]): Html {
  return html`<h2>Mind</h2>
    ${cautions.map((caution) => html`<p class="caution">${caution}</p>`)}`;
}

/** Larger than a table of results: it is read at arm's length, tools in hand. */
const STYLE = `
.print h2 { margin-top: .8em } .print .caution { margin: .3em 0 } .print p { margin: .4em 0 } .print .notes { white-space: pre-line }
.print .sheet-readings { columns: 2; column-gap: 8mm; margin: 0 }
.print .sheet-readings div { display: flex; justify-content: space-between; gap: 3mm; break-inside: avoid; padding: .2em 0; border-bottom: .3mm solid #bbb }
.print .sheet-readings dd { margin: 0; font-weight: 700; text-align: right }
.print .boxes { list-style: none; counter-reset: step; padding: 0; margin: 0 }
.print .boxes li { counter-increment: step; position: relative; padding-left: 4.2em; margin: .34em 0 }
.print .boxes li::before { content: ''; position: absolute; left: 0; top: .15em; width: 1em; height: 1em; border: .4mm solid #000 }
.print .boxes li::after { content: counter(step) '.'; position: absolute; left: 1.9em; top: 0; font-weight: 700 }
`;
