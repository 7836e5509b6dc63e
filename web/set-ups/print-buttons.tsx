import { z } from 'zod';
import { PAPERS, type Paper, type PrintParts } from '../../src/drawing/print-page.ts';
import { remembered } from '../state/remembered.ts';
import { printAlone } from './print-alone.ts';
import { say } from '../state/words.ts';

/** The paper chosen last. */
const paper = remembered<Paper>('paper', z.enum(PAPERS), 'A4');

const NAMES: Readonly<Record<Paper, string>> = { A4: 'A4', A5: 'A5', letter: 'Letter' };

interface Props {
  readonly sheet: (paper: Paper) => PrintParts;
}

/** Prints a sheet on the paper that is at hand. */
export function PrintButtons({ sheet }: Props) {
  return (
    <div class="print-buttons">
      <label class="field">
        <span class="field-name">{say('Paper')}</span>
        <select
          value={paper.value}
          onChange={({ currentTarget }) => (paper.value = currentTarget.value as Paper)}
        >
          {PAPERS.map((size) => (
            <option key={size} value={size}>
              {NAMES[size]}
            </option>
          ))}
        </select>
      </label>
      <button type="button" class="button" onClick={() => printAlone(sheet(paper.value))}>
        {say('Print')}
      </button>
    </div>
  );
}
