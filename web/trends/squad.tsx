import { timeline } from '../../src/trends/timeline.ts';
import type { ScoredEnd, TrendEnd } from '../../src/trends/trend-ends.ts';
import type { Archer } from '../../src/tuning/record/session.ts';

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
      <h2 id="squad-title">Archers side by side</h2>
      <div class="table-scroll" role="group" aria-label="Archers, table" tabIndex={0}>
        <table class="figures squad">
          <thead>
            <tr>
              <th scope="col">Archer</th>
              <th scope="col">Ends</th>
              <th scope="col">Points an arrow</th>
              <th scope="col">Spread</th>
              <th scope="col">Bare shafts lately</th>
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
                      {archer.name}
                    </button>
                  </th>
                  <td>{ends.length}</td>
                  <td>{last?.average?.toFixed(2) ?? '–'}</td>
                  <td>{last?.spread ? `${last.spread.sigmaMrad.toFixed(1)} mrad` : '–'}</td>
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
  const sides = [
    ...(Math.abs(up) > half90Mrad ? [`${Math.abs(up).toFixed(1)} ${up > 0 ? 'high' : 'low'}`] : []),
    ...(Math.abs(right) > half90Mrad
      ? [`${Math.abs(right).toFixed(1)} ${right > 0 ? 'right' : 'left'}`]
      : []),
  ];
  return sides.length > 0 ? `${sides.join(', ')} (mrad)` : 'undecided';
}
