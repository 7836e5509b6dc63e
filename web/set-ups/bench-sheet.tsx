import type { ComponentChildren } from 'preact';
import type { Paper, PrintParts } from '../../src/drawing/print-page.ts';
import type { JourneySheet } from '../../src/tuning/bow/journey-sheet.ts';
import { useFocusAtFirst } from '../parts/focus-at-first.ts';
import { PrintButtons } from './print-buttons.tsx';
import { say } from '../state/words.ts';

interface Props {
  readonly title: string;
  readonly about: string;
  readonly values: JourneySheet['values'];
  /** What to mind, said where the work is. */
  readonly cautions: readonly string[];
  readonly print: (paper: Paper) => PrintParts;
  /** What ends it. */
  readonly end: ComponentChildren;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

/** What is read with tools in hand: readings, lists to tick, what to mind, and the same on paper. */
export function BenchSheet(props: Props) {
  const { title, about, values, cautions, print, end, onClose, children } = props;
  const heading = useFocusAtFirst<HTMLHeadingElement>();
  return (
    <article class="card sheet">
      <h2 ref={heading} tabIndex={-1}>
        {title}
      </h2>
      <p class="quiet">{about}</p>
      <table class="figures">
        <caption>{say('Readings')}</caption>
        <tbody>
          {values.map((value) => (
            <tr key={value.name}>
              <th scope="row">{value.name}</th>
              <td>{value.reading}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {children}
      <ul class="cautions" aria-label={say('Cautions')}>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      {end}
      <PrintButtons sheet={print} />
      <button type="button" class="button" onClick={onClose}>
        {say('Close')}
      </button>
    </article>
  );
}
