import { stringify } from 'csv-stringify/browser/esm/sync';
import { SPREADSHEET_FORM } from './spreadsheet-form.ts';
import type { ArrowPlaces } from '../trends/arrow-places.ts';
import type { Comparison, Difference } from '../trends/compare-set-ups.ts';
import type { SetUpsFigures } from '../trends/set-up-figures.ts';
import type { SpreadAgainstDistance } from '../trends/spread-against-distance.ts';
import type { Timeline } from '../trends/timeline.ts';
import type { WalkBack } from '../trends/walk-back.ts';
import type { Bow, SetUp } from '../tuning/bow/set-up.ts';
import { settingWords } from '../tuning/bow/setting-words.ts';

/** One row per session and distance. `names` gives set-ups by id the names a person knows. */
export function timelineCsv({ points }: Timeline, names: Readonly<Record<string, string>>): string {
  return stringify(
    points.map((point) => ({
      at: point.at,
      distance_m: point.distanceM,
      arrows: point.arrows,
      misses: point.misses,
      average: rounded(point.average),
      spread_mrad: rounded(point.spread?.sigmaMrad),
      spread_low90_mrad: rounded(point.spread?.interval90[0]),
      spread_high90_mrad: rounded(point.spread?.interval90[1]),
      offset_right_mrad: rounded(point.offset?.mrad[0]),
      offset_up_mrad: rounded(point.offset?.mrad[1]),
      offset_half90_mrad: rounded(point.offset?.half90Mrad),
      set_ups: point.setUpIds.map((id) => names[id] ?? id).join(', '),
      scoring: point.scoring,
    })),
    SPREADSHEET_FORM,
  );
}

/** One row per session and distance of each series; the slope stands in each row of its series. */
export function spreadCsv(
  series: readonly { readonly name: string; readonly trend: SpreadAgainstDistance }[],
): string {
  return stringify(
    series.flatMap(({ name, trend }) =>
      trend.points.map((point) => ({
        set_up: name,
        distance_m: point.distanceM,
        arrows: point.arrows,
        spread_mm: rounded(point.sigmaMm),
        spread_low90_mm: rounded(point.interval90Mm[0]),
        spread_high90_mm: rounded(point.interval90Mm[1]),
        slope: rounded(trend.slope?.mean),
        slope_low90: rounded(trend.slope?.interval90[0]),
        slope_high90: rounded(trend.slope?.interval90[1]),
      })),
    ),
    SPREADSHEET_FORM,
  );
}

/** One row per distance; the drift stands in each. */
export function walkBackCsv({ points, drift }: WalkBack): string {
  return stringify(
    points.map((point) => ({
      distance_m: point.distanceM,
      arrows: point.arrows,
      right_mm: rounded(point.mm[0]),
      up_mm: rounded(point.mm[1]),
      standard_error_mm: rounded(point.seMm),
      drift_mm_per_m: rounded(drift?.mrad),
      drift_low90: rounded(drift?.interval90[0]),
      drift_high90: rounded(drift?.interval90[1]),
    })),
    SPREADSHEET_FORM,
  );
}

/** One row per numbered arrow, fletched ones first. */
export function arrowPlacesCsv(of: readonly ArrowPlaces[]): string {
  return stringify(
    of.flatMap(({ kind, arrows }) =>
      arrows.map((arrow) => ({
        kind,
        arrow_number: arrow.arrowNumber,
        shots: arrow.shots,
        right_mrad: rounded(arrow.mrad[0]),
        up_mrad: rounded(arrow.mrad[1]),
        half90_mrad: rounded(arrow.half90Mrad),
        p_by_chance: rounded(arrow.pByChance),
        verdict: arrow.verdict,
        more_shots: arrow.moreShots ?? '',
      })),
    ),
    SPREADSHEET_FORM,
  );
}

/** A row for the values and one for the spread. */
export function comparisonCsv(
  comparison: Comparison,
  names: { readonly first: string; readonly second: string },
): string {
  const row = (by: string, unit: string, difference: Difference | null) => ({
    by,
    first: names.first,
    first_arrows: comparison.first.arrows,
    first_misses: comparison.first.misses,
    second: names.second,
    second_arrows: comparison.second.arrows,
    second_misses: comparison.second.misses,
    sessions_with_both: comparison.pairedSessions,
    unit,
    effect: rounded(difference?.effect),
    low90: rounded(difference?.interval90[0]),
    high90: rounded(difference?.interval90[1]),
    p_second_better: rounded(difference?.pSecondBetter),
    verdict: difference?.verdict ?? 'nothing in common',
    arrows_needed: difference?.arrowsNeeded,
  });
  return stringify(
    [
      row('value', 'points an arrow, second less first', comparison.byValue),
      row('spread', 'second over first', comparison.bySpread),
    ],
    SPREADSHEET_FORM,
  );
}

/** One row per set-up with every adjuster's reading, and how it shot. */
export function setUpsCsv(bow: Bow, setUps: readonly SetUp[], figures: SetUpsFigures): string {
  const byId = new Map(figures.setUps.map((one) => [one.setUpId, one]));
  // Two adjusters may have one name: the second gets its id beside it.
  const names = bow.adjusters.map(({ name }) => name);
  const columns = bow.adjusters.map((adjuster, i) => ({
    adjuster,
    column:
      names.indexOf(adjuster.name) === i ? adjuster.name : `${adjuster.name} (${adjuster.id})`,
  }));
  return stringify(
    setUps.map((setUp) => {
      const own = byId.get(setUp.id);
      const readings = columns.map(({ adjuster, column }): [string, string] => {
        const setting = setUp.settings[adjuster.id];
        return [column, setting === undefined ? '' : settingWords(adjuster, setting)];
      });
      return {
        set_up: setUp.id,
        name: setUp.name,
        date: setUp.date,
        wanted_right_mrad: setUp.preferredMrad[0],
        wanted_up_mrad: setUp.preferredMrad[1],
        ends: own?.ends ?? 0,
        arrows: own?.arrows ?? 0,
        misses: own?.misses ?? 0,
        spread_mrad: rounded(own?.spread?.sigmaMrad),
        average: rounded(own?.average?.value),
        average_arrows: own?.average?.arrows ?? 0,
        notes: setUp.notes,
        ...Object.fromEntries(readings),
      };
    }),
    SPREADSHEET_FORM,
  );
}

/** Four digits after the point are more than any of it is known to. */
function rounded(value: number | null | undefined): number | undefined {
  return value === null || value === undefined ? undefined : Number(value.toFixed(4));
}
