import { tick, ticked } from './ticked.ts';

interface Props {
  /** Under which what is ticked is remembered. */
  readonly list: string;
  readonly steps: readonly string[];
}

/** Steps in their order, to tick off at the bench; a page that is loaded anew remembers. */
export function Checklist({ list, steps }: Props) {
  const done = ticked.value[list] ?? [];
  return (
    <ol class="checklist">
      {steps.map((step) => (
        <li key={step}>
          <label>
            <input
              type="checkbox"
              checked={done.includes(step)}
              onChange={({ currentTarget }) => tick(list, step, currentTarget.checked)}
            />
            <span>{step}</span>
          </label>
        </li>
      ))}
    </ol>
  );
}

/** '3 of 8 done'. */
export function doneWords(list: string, steps: readonly string[]): string {
  const done = ticked.value[list] ?? [];
  return `${steps.filter((step) => done.includes(step)).length} of ${steps.length} done`;
}
