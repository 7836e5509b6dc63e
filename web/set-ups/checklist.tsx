import { tick, ticked } from './ticked.ts';
import { say } from '../state/words.ts';

interface Props {
  readonly title: string;
  /** Under which what is ticked is remembered. */
  readonly list: string;
  readonly steps: readonly string[];
}

/** Steps in their order, to tick off at the bench; a page that is loaded anew remembers. */
export function Checklist({ title, list, steps }: Props) {
  const done = ticked.value[list] ?? [];
  return (
    <>
      <div class="section-head">
        <h3>{title}</h3>
        <span class="quiet">
          {say('{some} of {all} done', {
            some: steps.filter((step) => done.includes(step)).length,
            all: steps.length,
          })}
        </span>
      </div>
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
    </>
  );
}
