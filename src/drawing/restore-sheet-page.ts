import { ENGLISH, type Words } from '../words/words.ts';
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
export function restoreSheetPage(
  sheet: RestoreSheet,
  paper?: Paper,
  words: Words = ENGLISH,
): string {
  return printPage(restoreParts(sheet, paper, words));
}

/** The same, to print from within another page. */
export function restoreSheetParts(
  sheet: RestoreSheet,
  paper?: Paper,
  words: Words = ENGLISH,
): PrintParts {
  return printParts(restoreParts(sheet, paper, words));
}

/** What to note before a journey and to check at its end, to print from within another page. */
export function journeySheetParts(
  sheet: JourneySheet,
  paper?: Paper,
  words: Words = ENGLISH,
): PrintParts {
  const { say } = words;
  return printParts({
    title: say('On a journey: {bow}', { bow: sheet.bow }),
    heading: say('On a journey with “{setUp}”', { setUp: sheet.title }),
    body: [
      html`<p>${aboutJourney(sheet, words)}</p>`,
      html`<h2>${say('Before you leave')}</h2>
        ${boxes(sheet.before)}`,
      html`<h2>${say('On arrival, in this order')}</h2>
        ${boxes(sheet.arrival)}`,
      mind(sheet.cautions, words),
    ],
    foot: say(FOOT),
    style: STYLE,
    words,
    ...(paper && { paper }),
  });
}

/** Which bow, whose hand, and where its bare shafts are wanted. */
export function aboutJourney({ bow, hand, preferred }: JourneySheet, { say }: Words): string {
  return say('{bow}, {hand}. Bare shafts wanted: {preferred}.', {
    bow,
    hand: say(`${hand}-handed`),
    preferred,
  });
}

function restoreParts(sheet: RestoreSheet, paper: Paper | undefined, words: Words): PrintPage {
  const { say } = words;
  const about = say('{bow}, {hand}, written down on {day}. Bare shafts wanted: {preferred}.', {
    bow: sheet.bow,
    hand: say(`${sheet.hand}-handed`),
    day: words.sheetDay(sheet.date),
    preferred: sheet.preferred,
  });
  return {
    title: say('Back to {setUp}: {bow}', { setUp: sheet.title, bow: sheet.bow }),
    heading: say('Back to “{setUp}”', { setUp: sheet.title }),
    body: [
      html`<p>${about}</p>`,
      sheet.notes === '' ? null : html`<p class="notes">${sheet.notes}</p>`,
      readings(
        say('Already as it should be'),
        sheet.values.filter(({ isSet }) => !isSet),
      ),
      html`<h2>${say('The work, in this order')}</h2>
        ${boxes(sheet.work)}`,
      mind(sheet.cautions, words),
    ],
    foot: say(FOOT),
    style: STYLE,
    words,
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

function mind(cautions: readonly string[], { say }: Words): Html {
  return html`<h2>${say('Mind')}</h2>
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
