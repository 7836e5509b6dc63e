import { Explained } from '../parts/explained.tsx';
import { archerName } from '../parts/said-names.ts';
import { timeline } from '../../src/trends/timeline.ts';
import type { ScoredEnd, TrendEnd } from '../../src/trends/trend-ends.ts';
import type { Archer } from '../../src/tuning/record/session.ts';
import { say, words } from '../state/words.ts';

interface Props {
  readonly rows: readonly {
    readonly archer: Archer;
    readonly ends: readonly (ScoredEnd | TrendEnd)[];
  }[];
  readonly shown: string | null;
  readonly onShow: (archerId: string) => void;
}

/** All archers on one sheet: how they shoot, and where their bare shafts were last. */
export function Squad({ rows, shown, onShow }: Props) {
  return (
    <section class="card" aria-labelledby="squad-title">
      <h2 id="squad-title">{say('Archers side by side')}</h2>
      <div class="table-scroll" role="group" aria-label={say('Archers, table')} tabIndex={0}>
        <table class="figures squad">
          <thead>
            <tr>
              <th scope="col">{say('Archer')}</th>
              <th scope="col">{say('Ends')}</th>
              <th scope="col">{say('Points an arrow')}</th>
              <th scope="col">
                {say('Spread')}
                <Explained term="mrad" />
              </th>
              <th scope="col">{say('Bare shafts lately')}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ archer, ends }) => {
              const last = timeline(ends).points.at(-1);
              return (
                <tr key={archer.id}>
                  <th scope="row">
                    <button
                      type="button"
                      aria-pressed={archer.id === shown}
                      onClick={() => onShow(archer.id)}
                    >
                      {archerName(archer.name)}
                    </button>
                  </th>
                  <td>{ends.length}</td>
                  <td>
                    {last?.average === null || last?.average === undefined
                      ? '–'
                      : words.value.number(last.average, 2)}
                  </td>
                  <td>
                    {last?.spread ? `${words.value.number(last.spread.sigmaMrad, 1)} mrad` : '–'}
                  </td>
                  <td>{last?.offset ? offsetWords(last.offset) : '–'}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** The sides on which the offset's interval leaves no doubt, or that it is open. */
function offsetWords({
  mrad: [right, up],
  half90Mrad,
}: {
  readonly mrad: readonly [number, number];
  readonly half90Mrad: number;
}): string {
  const size = (mrad: number) => ({ size: words.value.number(Math.abs(mrad), 1) });
  const sides = [
    ...(Math.abs(up) > half90Mrad ? [say(up > 0 ? '{size} high' : '{size} low', size(up))] : []),
    ...(Math.abs(right) > half90Mrad
      ? [say(right > 0 ? '{size} right' : '{size} left', size(right))]
      : []),
  ];
  return sides.length > 0 ? `${sides.join(', ')} (mrad)` : say('undecided');
}
